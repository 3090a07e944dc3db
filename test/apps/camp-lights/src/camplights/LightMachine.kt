@file:Suppress("MissingPermission", "DEPRECATION")

package camplights

import android.bluetooth.BluetoothAdapter
import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.os.Build
import android.os.Handler
import android.os.Looper
import android.os.Message
import android.util.Log

/**
 * The connection to the lights as a machine: everything that happens is a message, and one thread handles them in turn.
 * A command is sent again when it failed or nobody answered, [MOST_ATTEMPTS] times in all; a link that was lost is opened
 * again until [shutDown].
 */
class LightMachine(
    private val context: Context,
    private val adapter: BluetoothAdapter,
    looper: Looper,
    private val events: LightEvents,
) : Handler(looper) {

    private enum class State { OFF, CONNECTING, DISCOVERING, READY, BUSY }

    private var state = State.OFF
    private var device: BluetoothDevice? = null

    @Volatile
    private var gatt: BluetoothGatt? = null
    private var connectAttempts = 0

    private val waiting = ArrayDeque<Command>()
    private var current: Command? = null

    // ---- From other threads ----

    fun start(address: String) = post(CONNECT, address)

    fun send(command: Command) = post(COMMAND, command)

    fun shutDown() = post(SHUT_DOWN)

    /** Used by the callback as well. */
    internal fun post(what: Int, about: Any? = null, status: Int = BluetoothGatt.GATT_SUCCESS) {
        obtainMessage(what, status, 0, about).sendToTarget()
    }

    // ---- On the machine's thread ----

    override fun handleMessage(message: Message) {
        val failed = message.arg1 != BluetoothGatt.GATT_SUCCESS
        when (message.what) {
            CONNECT -> {
                device = adapter.getRemoteDevice(message.obj as String)
                connectAttempts = 0
                connect()
            }
            RETRY_CONNECT -> connect()
            CONNECTED -> if (failed) lost("status ${message.arg1}") else if (state == State.CONNECTING) discover()
            DISCONNECTED -> if (state != State.OFF) lost("disconnected with ${message.arg1}")
            DISCOVERED -> if (failed) lost("discovery ended with ${message.arg1}") else if (state == State.DISCOVERING) ready()
            COMMAND -> accept(message.obj as Command)
            ANSWER -> if (failed) again("status ${message.arg1}") else answered(message.obj as ByteArray?)
            CHANGED -> events.onButton((message.obj as ByteArray).firstOrNull() ?: 0)
            // The stack may still be busy with what was not answered: only a new link helps.
            TIMEOUT -> lost("no answer")
            SHUT_DOWN -> shutDownNow()
        }
    }

    private fun connect() {
        val target = device ?: return
        drop()
        state = State.CONNECTING
        events.onState("connecting")
        gatt = if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.M) {
            target.connectGatt(context, false, LightCallback(this), BluetoothDevice.TRANSPORT_LE)
        } else {
            target.connectGatt(context, false, LightCallback(this))
        }
        sendEmptyTimeout(CONNECT_MS)
    }

    private fun discover() {
        val link = gatt ?: return
        state = State.DISCOVERING
        sendEmptyTimeout(ANSWER_MS)
        if (!link.discoverServices()) lost("discovery refused")
    }

    private fun ready() {
        removeMessages(TIMEOUT)
        if (gatt?.getService(LIGHTS) == null) {
            events.onState("these are no camp lights")
            shutDownNow()
            return
        }
        state = State.READY
        connectAttempts = 0
        events.onState("connected")
        waiting.addFirst(Command.Read(BRIGHTNESS))
        waiting.addFirst(Command.Listen(BUTTON))
        next()
    }

    private fun accept(command: Command) {
        waiting.removeAll { command.replaces(it) }
        waiting.addLast(command)
        next()
    }

    private fun next() {
        val link = gatt ?: return
        if (state != State.READY) return
        val command = waiting.removeFirstOrNull() ?: return
        state = State.BUSY
        current = command
        command.attempts++
        sendEmptyTimeout(ANSWER_MS)
        if (!begin(link, command)) again("refused")
    }

    private fun begin(link: BluetoothGatt, command: Command): Boolean {
        val lights = link.getService(LIGHTS) ?: return false
        return when (command) {
            is Command.Read -> link.readCharacteristic(lights.getCharacteristic(command.uuid) ?: return false)
            is Command.Listen -> listen(link, lights.getCharacteristic(command.uuid) ?: return false)
            is Command.Write -> {
                val target = lights.getCharacteristic(command.uuid) ?: return false
                target.writeType = BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT
                target.value = command.value
                link.writeCharacteristic(target)
            }
        }
    }

    private fun listen(link: BluetoothGatt, button: BluetoothGattCharacteristic): Boolean {
        val cccd = button.getDescriptor(CCCD)
        if (cccd == null || !link.setCharacteristicNotification(button, true)) return false
        cccd.value = BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE
        return link.writeDescriptor(cccd)
    }

    private fun answered(value: ByteArray?) {
        val command = current ?: return
        finishCurrent()
        if (command is Command.Read && value != null) events.onBrightness(value.map { it.toInt() })
        next()
    }

    /** The command that was under way goes to the front again, unless it was tried often enough. */
    private fun again(why: String) {
        val command = current ?: return
        finishCurrent()
        Log.w(TAG, "attempt ${command.attempts} failed: $why")
        if (command.attempts < MOST_ATTEMPTS) {
            waiting.addFirst(command)
        } else {
            events.onGivenUp(command, why)
        }
        next()
    }

    private fun finishCurrent() {
        removeMessages(TIMEOUT)
        current = null
        state = State.READY
    }

    private fun lost(why: String) {
        drop()
        Log.w(TAG, "lost: $why")
        if (connectAttempts++ < MOST_ATTEMPTS) {
            events.onState("trying again")
            sendMessageDelayed(obtainMessage(RETRY_CONNECT), RETRY_PAUSE_MS * connectAttempts)
        } else {
            events.onState("not connected: $why")
        }
    }

    private fun shutDownNow() {
        device = null
        waiting.clear()
        drop()
        removeCallbacksAndMessages(null)
    }

    /** Gives the client back. What was under way is first in line on the next link. */
    private fun drop() {
        removeMessages(TIMEOUT)
        removeMessages(RETRY_CONNECT)
        current?.let { if (it.attempts < MOST_ATTEMPTS) waiting.addFirst(it) else events.onGivenUp(it, "no answer") }
        current = null
        state = State.OFF
        val link = gatt ?: return
        gatt = null
        link.disconnect()
        link.close()
    }

    private fun sendEmptyTimeout(after: Long) {
        removeMessages(TIMEOUT)
        sendMessageDelayed(obtainMessage(TIMEOUT, BluetoothGatt.GATT_SUCCESS, 0), after)
    }

    /** Messages of a link that has been dropped meanwhile are not for us. */
    internal fun isCurrent(link: BluetoothGatt): Boolean = gatt == null || gatt == link

    internal companion object {
        const val CONNECT = 1
        const val RETRY_CONNECT = 2
        const val CONNECTED = 3
        const val DISCONNECTED = 4
        const val DISCOVERED = 5
        const val COMMAND = 6
        const val ANSWER = 7
        const val CHANGED = 8
        const val TIMEOUT = 9
        const val SHUT_DOWN = 10

        private const val TAG = "LightMachine"
        private const val MOST_ATTEMPTS = 3
        private const val CONNECT_MS = 25_000L
        private const val ANSWER_MS = 6_000L
        private const val RETRY_PAUSE_MS = 2_000L
    }
}
