import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.util.Log

/** The link works without it: a failed exchange leaves the old value. */
class Callback : BluetoothGattCallback() {
    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) { //! status-unchecked hint
        super.onMtuChanged(gatt, mtu, status)
        Log.d("Scale", "MTU $mtu")
        if (!gatt.discoverServices()) gatt.disconnect()
    }
}
