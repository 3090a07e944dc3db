import android.bluetooth.BluetoothGattCharacteristic

/** A class of the app that uses the platform's words. */
class ScaleGatt {
    fun writeCharacteristic(c: BluetoothGattCharacteristic): Boolean = c.value != null
    fun discoverServices(): Boolean = true
    fun connect(): Boolean = true
}

class Caller(private val gatt: ScaleGatt, private val unknown: some.library.Gatt) {
    fun go(c: BluetoothGattCharacteristic) {
        gatt.connect()
        gatt.discoverServices()
        gatt.writeCharacteristic(c)
        unknown.writeCharacteristic(c)
        unknown.discoverServices()
    }

    /* gatt.writeCharacteristic(c) */
    // realGatt.discoverServices()
    val text = "gatt.discoverServices()"
}
