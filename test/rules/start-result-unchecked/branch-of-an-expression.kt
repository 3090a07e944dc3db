import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothStatusCodes
import android.os.Build

class Values(private val gatt: BluetoothGatt) {
    fun act(write: Boolean, cccd: BluetoothGattDescriptor): Boolean = when (write) {
        true -> gatt.writeDescriptor(cccd)
        false -> gatt.readDescriptor(cccd)
    }

    fun send(c: BluetoothGattCharacteristic, value: ByteArray): Boolean {
        return if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
            gatt.writeCharacteristic(c, value, BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT) == BluetoothStatusCodes.SUCCESS
        } else {
            c.value = value
            gatt.writeCharacteristic(c)
        }
    }

    fun guarded(c: BluetoothGattCharacteristic) {
        val started = try {
            gatt.readCharacteristic(c)
        } catch (e: SecurityException) {
            false
        }
        if (!started) gatt.disconnect()
    }

    fun status(c: BluetoothGattCharacteristic, value: ByteArray) {
        when (val result = gatt.writeCharacteristic(c, value, BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT)) {
            BluetoothStatusCodes.SUCCESS -> Unit
            else -> throw IllegalStateException("write refused: $result")
        }
    }

    fun subject(c: BluetoothGattCharacteristic) {
        when (val ok = gatt.readCharacteristic(c)) {
            false -> gatt.disconnect()
            true -> println(ok)
        }
    }
}
