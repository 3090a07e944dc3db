package app.hivescale.gatt

import android.bluetooth.BluetoothGatt
import android.os.Handler
import android.util.Log

/** How a queued operation ended. */
sealed class Outcome {
    class Done(val value: ByteArray) : Outcome()
    class Failed(val reason: String) : Outcome()
}

/**
 * Android carries out one GATT operation at a time per connection and refuses the rest, so everything waits here for its
 * turn. The owner of the connection calls [complete] from its callbacks; that starts the next one.
 *
 * All of it runs on the thread of [handler], the callbacks included (see the handler given to connectGatt).
 *
 * @param onStuck called after a time-out. The stack may still be busy with the lost operation, so only a new connection
 *   helps.
 */
class OperationQueue(private val handler: Handler, private val onStuck: () -> Unit) {

    private class Entry(
        val label: String,
        val timeoutMs: Long,
        val done: (Outcome) -> Unit,
        val start: (BluetoothGatt) -> Boolean,
    )

    private val waiting = ArrayDeque<Entry>()
    private var running: Entry? = null
    private var gatt: BluetoothGatt? = null

    private val watchdog = Runnable { onTimeout() }

    /** From now on operations are started. What was enqueued earlier goes first. */
    fun attach(gatt: BluetoothGatt) {
        this.gatt = gatt
        startNext()
    }

    /** [start] says whether the stack took the operation. */
    fun enqueue(
        label: String,
        timeoutMs: Long = DEFAULT_TIMEOUT_MS,
        done: (Outcome) -> Unit = {},
        start: (BluetoothGatt) -> Boolean,
    ) {
        handler.post {
            waiting.addLast(Entry(label, timeoutMs, done, start))
            startNext()
        }
    }

    /** To be called from every completion callback. */
    fun complete(status: Int, value: ByteArray = EMPTY) {
        val outcome = if (status == BluetoothGatt.GATT_SUCCESS) {
            Outcome.Done(value)
        } else {
            Outcome.Failed("status $status")
        }
        finish(outcome)
        startNext()
    }

    /** The link is gone: nothing that waits will ever run. */
    fun abort(reason: String) {
        gatt = null
        val lost = waiting.toList()
        waiting.clear()
        finish(Outcome.Failed(reason))
        lost.forEach { it.done(Outcome.Failed(reason)) }
    }

    private fun startNext() {
        if (running != null) return
        val link = gatt ?: return
        val entry = waiting.removeFirstOrNull() ?: return
        running = entry
        handler.postDelayed(watchdog, entry.timeoutMs)
        if (!entry.start(link)) {
            Log.w(TAG, "${entry.label}: refused")
            finish(Outcome.Failed("refused"))
            handler.post { startNext() }
        }
    }

    private fun finish(outcome: Outcome) {
        val entry = running ?: return
        handler.removeCallbacks(watchdog)
        running = null
        entry.done(outcome)
    }

    private fun onTimeout() {
        Log.w(TAG, "${running?.label}: no answer")
        gatt = null
        finish(Outcome.Failed("no answer"))
        onStuck()
    }

    private companion object {
        const val TAG = "OperationQueue"
        const val DEFAULT_TIMEOUT_MS = 10_000L
        val EMPTY = ByteArray(0)
    }
}
