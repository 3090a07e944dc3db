import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

/** Nothing depends on whether it was accepted: the link goes anyway. */
class WindingDown(private val gatt: BluetoothGatt, private val weight: BluetoothGattCharacteristic) {
    fun stop(cccd: BluetoothGattDescriptor) {
        gatt.setCharacteristicNotification(weight, false)
        cccd.value = BluetoothGattDescriptor.DISABLE_NOTIFICATION_VALUE
        gatt.writeDescriptor(cccd)
        gatt.disconnect()
        gatt.close()
    }

    fun stopNew(cccd: BluetoothGattDescriptor) {
        gatt.setCharacteristicNotification(weight, false)
        gatt.writeDescriptor(cccd, BluetoothGattDescriptor.DISABLE_NOTIFICATION_VALUE)
        gatt.close()
    }
}
