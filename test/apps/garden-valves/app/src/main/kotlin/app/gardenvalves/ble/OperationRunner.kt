package app.gardenvalves.ble

import android.bluetooth.BluetoothGatt
import android.os.Handler
import app.gardenvalves.ble.Operation.Answer

/**
 * First in, first out, one at a time. The callbacks of the connection report here; a report ends the running operation
 * and pumps the next. An operation without a report in time takes the connection down with it.
 */
internal class OperationRunner(private val handler: Handler, private val onStalled: () -> Unit) {

    private val waiting = ArrayDeque<Operation>()
    private var running: Operation? = null
    private var gatt: BluetoothGatt? = null

    private val timeout = Runnable {
        synchronized(this) { gatt = null }
        finish(Answer.Refused("no answer"))
        onStalled()
    }

    @Synchronized
    fun attach(gatt: BluetoothGatt) {
        this.gatt = gatt
    }

    fun enqueue(operation: Operation) {
        synchronized(this) { waiting.addLast(operation) }
        pump()
    }

    /** The running operation has ended; [value] is what was read. */
    fun report(status: Int, value: ByteArray? = null) {
        val answer = when {
            status != BluetoothGatt.GATT_SUCCESS -> Answer.Refused("status $status")
            value != null -> Answer.Value(value)
            else -> Answer.Acknowledged
        }
        finish(answer)
        pump()
    }

    /** Nothing that waits will ever run. */
    fun cancelAll(why: String) {
        val lost = synchronized(this) {
            gatt = null
            waiting.toList().also { waiting.clear() }
        }
        finish(Answer.Refused(why))
        for (operation in lost) operation.done(Answer.Refused(why))
    }

    private fun pump() {
        val refused = synchronized(this) {
            if (running != null) return
            val link = gatt ?: return
            val next = waiting.removeFirstOrNull() ?: return
            running = next
            handler.postDelayed(timeout, TIMEOUT_MS)
            !next.start(link)
        }
        if (refused) {
            finish(Answer.Refused("refused by the stack"))
            handler.post { pump() }
        }
    }

    private fun finish(answer: Answer) {
        val ended = synchronized(this) {
            handler.removeCallbacks(timeout)
            running.also { running = null }
        }
        ended?.done?.invoke(answer)
    }

    private companion object {
        const val TIMEOUT_MS = 8_000L
    }
}
