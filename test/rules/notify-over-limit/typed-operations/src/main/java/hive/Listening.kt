package hive

import android.bluetooth.BluetoothGattService
import java.util.UUID

private val CELLS = listOf(
    UUID.fromString("df070111-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070112-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070113-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070114-7563-45da-9adc-777135148d9e"),
)
private val ALARM = UUID.fromString("df070103-7563-45da-9adc-777135148d9e")

/** What is put into the queue of a link is what that link gets: four, and with the alarm five. */
class Listening(private val left: Runner, private val right: Runner) {
    fun four(service: BluetoothGattService) {
        CELLS.forEach { cell -> left.enqueue(Subscribe(service.getCharacteristic(cell))) }
        left.enqueue(Read(service.getCharacteristic(ALARM)))
    }

    fun five(service: BluetoothGattService) {
        four(service)
        left.enqueue(Subscribe(service.getCharacteristic(ALARM))) //! notify-over-limit warning
    }

    /** Four on one link, one on the other. */
    fun both(service: BluetoothGattService) {
        four(service)
        right.enqueue(Subscribe(service.getCharacteristic(ALARM)))
    }
}
