import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.os.Build

class Branches(private val gatt: BluetoothGatt) {
    fun act(write: Boolean, cccd: BluetoothGattDescriptor) {
        when (write) {
            true -> if (!gatt.writeDescriptor(cccd)) {
                gatt.close()
                return
            }
            false -> gatt.readDescriptor(cccd)
        }
    }

    fun send(c: BluetoothGattCharacteristic, value: ByteArray) {
        if (Build.VERSION.SDK_INT >= 33) {
            gatt.writeCharacteristic(c, value, BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT)
        } else {
            c.value = value
            gatt.writeCharacteristic(c)
        }
    }

    fun guarded(c: BluetoothGattCharacteristic) {
        try {
            gatt.readCharacteristic(c)
        } catch (e: SecurityException) {
            false
        }
    }

    fun shorted(c: BluetoothGattCharacteristic, ready: Boolean) {
        ready && gatt.readCharacteristic(c)
    }
}
