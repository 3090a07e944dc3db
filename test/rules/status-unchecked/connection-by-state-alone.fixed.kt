import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.util.Log

/** The connected branch acts, and nobody closes when it is over. */
class Open : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) {
            Log.i("Scale", "gone")
            gatt.close()
            return
        }
        if (newState == BluetoothProfile.STATE_CONNECTED) {
            if (!gatt.discoverServices()) gatt.disconnect()
        } else if (newState == BluetoothProfile.STATE_DISCONNECTED) {
            Log.i("Scale", "gone")
        }
    }
}

/** A failed attempt ends in the disconnected branch, which closes. */
class Closing : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        when (newState) {
            BluetoothProfile.STATE_CONNECTED -> if (!gatt.discoverServices()) gatt.disconnect()
            BluetoothProfile.STATE_DISCONNECTED -> finish(gatt)
        }
    }

    private fun finish(gatt: BluetoothGatt) {
        gatt.close()
    }
}

/** Closed where the discovery is refused, not where the link is lost. */
class ClosingElsewhere : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (newState == BluetoothProfile.STATE_CONNECTED) {
            if (!gatt.discoverServices()) gatt.close()
        } else {
            Log.i("Scale", "gone")
        }
    }
}

/** Nothing is done on the strength of a connection: only things are put away. */
class CleaningUp(private val links: MutableMap<String, BluetoothGatt>) : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (newState == BluetoothProfile.STATE_DISCONNECTED) {
            links.remove(gatt.device.address)
            gatt.close()
        }
    }
}
