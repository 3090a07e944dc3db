import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.util.Log

/** The status is asked for the log, and then the same is done whatever it is. */
class Callback(private val onWeight: (ByteArray) -> Unit, private val next: () -> Unit) : BluetoothGattCallback() {
    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) { //! status-unchecked hint
        if (status != BluetoothGatt.GATT_SUCCESS) {
            Log.w("Scale", "read failed: $status")
        }
        onWeight(characteristic.value)
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) { //! status-unchecked hint
        if (status == BluetoothGatt.GATT_SUCCESS) {
            Log.d("Scale", "written")
        } else {
            Log.w("Scale", "write failed: $status")
        }
        next()
    }
}
