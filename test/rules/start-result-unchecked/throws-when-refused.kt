import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

private fun Boolean.orThrow(what: String) {
    if (!this) throw IllegalStateException("$what was not accepted")
}

private fun Boolean.logged(): Boolean {
    println("accepted: $this")
    return this
}

private fun logAssert(condition: Boolean) {
    if (!condition) throw AssertionError()
}

class Throwing(private val gatt: BluetoothGatt) {
    fun extension(c: BluetoothGattCharacteristic) {
        gatt.readCharacteristic(c).orThrow("read")
        gatt.readCharacteristic(c).logged().orThrow("read")
    }

    fun standard(c: BluetoothGattCharacteristic) {
        check(gatt.readCharacteristic(c)) { "read was not accepted" }
        require(gatt.readCharacteristic(c))
        assert(gatt.readCharacteristic(c))
        logAssert(gatt.readCharacteristic(c))
    }

    fun reference(c: BluetoothGattCharacteristic) {
        gatt.readCharacteristic(c).let(::logAssert)
    }
}
