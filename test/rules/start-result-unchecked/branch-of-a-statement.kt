import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.os.Build

class Branches(private val gatt: BluetoothGatt) {
    fun act(write: Boolean, cccd: BluetoothGattDescriptor) {
        when (write) {
            true -> gatt.writeDescriptor(cccd) //! start-result-unchecked warning
            false -> gatt.readDescriptor(cccd) //! start-result-unchecked warning
        }
    }

    fun send(c: BluetoothGattCharacteristic, value: ByteArray) {
        if (Build.VERSION.SDK_INT >= 33) {
            gatt.writeCharacteristic(c, value, BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT) //! start-result-unchecked warning
        } else {
            c.value = value
            gatt.writeCharacteristic(c) //! start-result-unchecked warning
        }
    }

    fun guarded(c: BluetoothGattCharacteristic) {
        try {
            gatt.readCharacteristic(c) //! start-result-unchecked warning
        } catch (e: SecurityException) {
            false
        }
    }

    fun shorted(c: BluetoothGattCharacteristic, ready: Boolean) {
        ready && gatt.readCharacteristic(c) //! start-result-unchecked warning
    }
}
