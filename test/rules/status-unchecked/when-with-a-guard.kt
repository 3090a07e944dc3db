import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothProfile
import kotlinx.coroutines.CancellableContinuation
import kotlin.coroutines.resume

class Callback(private val waiting: CancellableContinuation<Boolean>) : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        when (status) {
            BluetoothGatt.GATT_SUCCESS -> when (newState) {
                BluetoothProfile.STATE_CONNECTED -> if (!gatt.discoverServices()) gatt.close()
                BluetoothProfile.STATE_DISCONNECTED -> gatt.close()
            }
            else -> gatt.close()
        }
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        when (status) {
            BluetoothGatt.GATT_SUCCESS if characteristic.service != null -> waiting.resume(true)
            else -> waiting.resume(false)
        }
    }

    // Only the failure resumes; the success is told by a notification.
    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) waiting.resume(false)
    }
}
