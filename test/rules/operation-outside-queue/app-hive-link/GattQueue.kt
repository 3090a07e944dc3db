package hive.link

import android.bluetooth.BluetoothGatt
import java.util.ArrayDeque

/** What can be asked of a scale. */
interface Request {
    val name: String

    /** Whether the stack took it. */
    fun start(gatt: BluetoothGatt): Boolean

    fun end(succeeded: Boolean, value: ByteArray)
}

/** One request at a time; whoever has the link says when one has ended. */
class GattQueue {
    private val requests = ArrayDeque<Request>()
    private var current: Request? = null
    private var gatt: BluetoothGatt? = null

    @Synchronized
    fun open(gatt: BluetoothGatt) {
        this.gatt = gatt
        advance()
    }

    @Synchronized
    fun submit(request: Request) {
        requests.addLast(request)
        advance()
    }

    @Synchronized
    fun ended(succeeded: Boolean, value: ByteArray = ByteArray(0)) {
        val request = current ?: return
        current = null
        request.end(succeeded, value)
        advance()
    }

    @Synchronized
    fun abandon() {
        gatt = null
        requests.clear()
        ended(false)
    }

    private fun advance() {
        val link = gatt ?: return
        while (current == null) {
            val request = requests.pollFirst() ?: return
            current = request
            if (!request.start(link)) {
                current = null
                request.end(false, ByteArray(0))
            }
        }
    }
}
