import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class TestingQueue(private val gatt: BluetoothGatt) {
    private class Waiting(val start: () -> Boolean)

    private val waiting = ArrayDeque<Waiting>()
    private var current: Waiting? = null

    fun read(c: BluetoothGattCharacteristic) {
        enqueue { gatt.readCharacteristic(c) }
    }

    fun write(c: BluetoothGattCharacteristic, value: ByteArray) {
        enqueue {
            c.value = value
            gatt.writeCharacteristic(c)
        }
    }

    private fun enqueue(start: () -> Boolean) {
        waiting.addLast(Waiting(start))
        next()
    }

    private fun next() {
        if (current != null) return
        val candidate = waiting.removeFirstOrNull() ?: return
        current = candidate
        if (!candidate.start()) {
            current = null
            next()
        }
    }
}
