import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import java.util.LinkedList
import java.util.Queue

/** The queue takes blocks that yield nothing: what the call says is lost on the way in. */
class RunnableQueue(private val gatt: BluetoothGatt) {
    private val waiting: Queue<Runnable> = LinkedList()
    private var busy = false

    fun read(c: BluetoothGattCharacteristic) {
        waiting.add(Runnable {
            if (!gatt.readCharacteristic(c)) {
                gatt.close()
            }
        })
        next()
    }

    fun write(c: BluetoothGattCharacteristic) {
        enqueue { gatt.writeCharacteristic(c) }
    }

    private fun enqueue(operation: () -> Unit) {
        waiting.add(Runnable { operation() })
        next()
    }

    private fun next() {
        if (busy) return
        val operation = waiting.poll() ?: return
        busy = true
        operation.run()
    }
}

class BlockQueue(private val gatt: BluetoothGatt) {
    private val waiting = ArrayDeque<() -> Unit>()

    fun read(c: BluetoothGattCharacteristic) {
        waiting.addLast { gatt.readCharacteristic(c) }
        val discovery: () -> Unit = { gatt.discoverServices() }
        waiting.addLast(discovery)
    }

    fun onDone() {
        waiting.removeFirstOrNull()?.invoke()
    }
}

class Operation(val name: String, val start: () -> Unit)

class NamedQueue(private val gatt: BluetoothGatt) {
    private val waiting = ArrayDeque<Operation>()

    fun read(c: BluetoothGattCharacteristic) {
        waiting.addLast(Operation("read") { gatt.readCharacteristic(c) })
    }

    fun onDone() {
        waiting.removeFirstOrNull()?.start?.invoke()
    }
}
