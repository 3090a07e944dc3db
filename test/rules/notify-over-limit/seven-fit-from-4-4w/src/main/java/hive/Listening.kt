package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattService
import java.util.UUID

/** Counted through a range: seven probes, and with the load cell eight. */
class Listening(private val gatt: BluetoothGatt) {
    fun probes(service: BluetoothGattService): Boolean {
        for (i in 1..7) {
            if (!listenTo(service, UUID.fromString("df07012$i-7563-45da-9adc-777135148d9e"))) return false
        }
        return true
    }

    fun everything(service: BluetoothGattService): Boolean {
        if (!probes(service)) return false
        return listenTo(service, UUID.fromString("df070111-7563-45da-9adc-777135148d9e")) //! notify-over-limit warning
    }

    private fun listenTo(service: BluetoothGattService, uuid: UUID): Boolean =
        gatt.setCharacteristicNotification(service.getCharacteristic(uuid), true)
}
