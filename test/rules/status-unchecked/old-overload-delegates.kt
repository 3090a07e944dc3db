import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

class Delegating(private val onWeight: (ByteArray) -> Unit) : BluetoothGattCallback() {
    @Deprecated("for Android 12 and older")
    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        onCharacteristicRead(gatt, characteristic, characteristic.value, status)
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) onWeight(value)
    }

    @Deprecated("for Android 12 and older")
    override fun onDescriptorRead(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) { //! status-unchecked warning
        onDescriptorRead(gatt, descriptor, status, descriptor.value)
    }

    override fun onDescriptorRead(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int, value: ByteArray) { //! status-unchecked warning
        onWeight(value)
    }
}
