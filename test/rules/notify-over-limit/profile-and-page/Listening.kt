package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

/** By the profile the scale offers five that notify or indicate, and the oldest release grants four. */
class Listening(private val gatt: BluetoothGatt) {
    fun toEverything() {
        for (service in gatt.services) {
            for (characteristic in service.characteristics) {
                if (characteristic.properties and BluetoothGattCharacteristic.PROPERTY_NOTIFY == 0) continue
                check(gatt.setCharacteristicNotification(characteristic, true)) //! notify-over-limit warning
            }
        }
    }
}
