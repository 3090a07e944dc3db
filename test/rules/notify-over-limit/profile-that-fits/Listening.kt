package hive

import android.bluetooth.BluetoothGatt

/** Everything that the scale offers are two. */
class Listening(private val gatt: BluetoothGatt) {
    fun toEverything() {
        gatt.services.forEach { service ->
            service.characteristics.forEach { check(gatt.setCharacteristicNotification(it, true)) }
        }
    }
}
