package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattService
import java.util.UUID

private val CHANNELS = listOf(
    UUID.fromString("df070101-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070102-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070103-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070104-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070105-7563-45da-9adc-777135148d9e"),
)

/** The list is what is wanted; a test of the properties, of null, and of what the helper says, does not make it shorter. */
class Listening(private val gatt: BluetoothGatt) {
    fun listen(service: BluetoothGattService): Boolean {
        for (uuid in CHANNELS) {
            val channel = service.getCharacteristic(uuid)
            if (channel == null) {
                continue
            }
            if (channel.properties and BluetoothGattCharacteristic.PROPERTY_NOTIFY == 0) continue
            if (!turnOn(channel)) return false //! notify-over-limit hint
        }
        return true
    }

    private fun turnOn(channel: BluetoothGattCharacteristic): Boolean = gatt.setCharacteristicNotification(channel, true)
}
