package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattCharacteristic.PROPERTY_INDICATE
import android.bluetooth.BluetoothGattCharacteristic.PROPERTY_NOTIFY
import java.util.UUID

/** Nobody knows how many the peripheral offers: a sensor hub has more than fifteen. */
class Listening(private val gatt: BluetoothGatt, private val wanted: UUID) {
    fun toEverything() {
        for (service in gatt.services) {
            for (characteristic in service.characteristics) {
                if (characteristic.canNotify()) listenTo(characteristic) //! notify-over-limit warning
            }
        }
    }

    fun toEverythingAtOnce() {
        gatt.services.flatMap { it.characteristics }.filter { it.canNotify() }.forEach { listenTo(it) } //! notify-over-limit warning
    }

    fun toTheOneThatIsWanted() {
        for (service in gatt.services) {
            for (characteristic in service.characteristics) {
                if (characteristic.uuid == wanted) listenTo(characteristic)
            }
        }
    }

    fun toTheNamedOnes() {
        gatt.services.flatMap { it.characteristics }.filter { it.uuid == wanted }.forEach { listenTo(it) }
    }

    fun toEverythingOfOneService(service: UUID) {
        gatt.getService(service)?.characteristics?.forEach { listenTo(it) }
    }

    private fun listenTo(characteristic: BluetoothGattCharacteristic) {
        check(gatt.setCharacteristicNotification(characteristic, true))
    }

    private fun BluetoothGattCharacteristic.canNotify(): Boolean = properties and (PROPERTY_NOTIFY or PROPERTY_INDICATE) != 0
}
