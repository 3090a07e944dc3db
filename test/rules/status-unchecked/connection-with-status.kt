import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile

class Together : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
            if (!gatt.discoverServices()) gatt.disconnect()
        } else {
            gatt.close()
        }
    }
}

class StateFirst(private val retry: () -> Unit) : BluetoothGattCallback() {
    private var tries = 0

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (newState == BluetoothProfile.STATE_CONNECTED && status == BluetoothGatt.GATT_SUCCESS) {
            tries = 0
            if (!gatt.discoverServices()) gatt.disconnect()
            return
        }
        gatt.close()
        if (tries++ < 3) retry()
    }
}

class Early : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status != 0) return gatt.close()
        when (newState) {
            BluetoothProfile.STATE_CONNECTED -> if (!gatt.discoverServices()) gatt.disconnect()
            else -> gatt.close()
        }
    }
}

class Told(private val onChange: (Int, Int) -> Unit) : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        onChange(status, newState)
    }
}
