import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothStatusCodes
import android.util.Log

class Tested(private val gatt: BluetoothGatt) {
    fun inPlace(c: BluetoothGattCharacteristic) {
        if (!gatt.readCharacteristic(c)) {
            Log.w("Scale", "read refused")
            gatt.disconnect()
        }
    }

    fun bound(c: BluetoothGattCharacteristic) {
        val started = gatt.readCharacteristic(c)
        if (!started) return fail("read")
        Log.d("Scale", "reading")
    }

    fun later(c: BluetoothGattCharacteristic): String {
        val started: Boolean
        started = gatt.readCharacteristic(c)
        return if (started) "reading" else "refused"
    }

    fun int(c: BluetoothGattCharacteristic, value: ByteArray) {
        val result = gatt.writeCharacteristic(c, value, BluetoothGattCharacteristic.WRITE_TYPE_NO_RESPONSE)
        if (result != BluetoothStatusCodes.SUCCESS) fail("write")
    }

    fun ored(c: BluetoothGattCharacteristic) {
        gatt.readCharacteristic(c) || return fail("read")
    }

    fun scoped(c: BluetoothGattCharacteristic) {
        gatt.readCharacteristic(c).let { started -> if (!started) fail("read") }
        gatt.readCharacteristic(c).also { if (!it) fail("read") }
        gatt.takeIf { it.readCharacteristic(c) } ?: fail("read")
    }

    private fun fail(what: String) {
        throw IllegalStateException("$what refused")
    }
}
