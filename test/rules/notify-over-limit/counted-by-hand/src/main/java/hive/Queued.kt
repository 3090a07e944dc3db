package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattService
import android.os.Handler

/** What is queued in order runs in order, on the same client. */
class Queued(private val gatt: BluetoothGatt, private val handler: Handler) {
    private val waiting = ArrayDeque<() -> Boolean>()

    private fun enqueue(operation: () -> Boolean) {
        waiting.addLast(operation)
    }

    /** 6 + 5 + 4 = 15, the sixteenth is posted. */
    fun listen(service: BluetoothGattService) {
        for (probe in PROBES) enqueue { gatt.setCharacteristicNotification(service.getCharacteristic(probe), true) }
        for (channel in Channel.entries) enqueue { gatt.setCharacteristicNotification(service.getCharacteristic(channel.uuid), true) }
        for (cell in CELLS.keys) enqueue { gatt.setCharacteristicNotification(service.getCharacteristic(cell), true) }
        handler.post { gatt.setCharacteristicNotification(service.getCharacteristic(EXTRAS[0].uuid), true) } //! notify-over-limit warning
    }

    fun run(): Boolean = waiting.removeFirstOrNull()?.invoke() == true
}
