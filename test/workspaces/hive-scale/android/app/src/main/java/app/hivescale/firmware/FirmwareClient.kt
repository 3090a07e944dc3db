@file:Suppress("MissingPermission", "DEPRECATION")

package app.hivescale.firmware

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.util.Log
import app.hivescale.gatt.HiveGatt
import app.hivescale.gatt.enableValue
import app.hivescale.gatt.writeCccd
import app.hivescale.gatt.writeValue
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.channels.Channel
import kotlinx.coroutines.delay
import kotlinx.coroutines.sync.Mutex
import kotlinx.coroutines.sync.withLock
import kotlinx.coroutines.withTimeoutOrNull
import java.io.Closeable
import java.io.IOException
import java.util.UUID

/**
 * The connection to the bootloader, for coroutines: every call suspends until the scale has answered and throws an
 * [IOException] when it did not.
 */
class FirmwareClient(private val context: Context, private val device: BluetoothDevice) : Closeable {

    /** What the bootloader says on its control characteristic, in order. */
    val replies = Channel<ByteArray>(Channel.UNLIMITED)

    @Volatile
    var payload = HiveGatt.DEFAULT_PAYLOAD
        private set

    private val turn = Mutex()

    @Volatile
    private var gatt: BluetoothGatt? = null

    @Volatile
    private var opening: CompletableDeferred<Boolean>? = null

    @Volatile
    private var answer: CompletableDeferred<Int>? = null

    /** The bootloader takes a moment to come up after the restart, so this tries more than once. */
    suspend fun connect() {
        for (attempt in 1..CONNECT_ATTEMPTS) {
            val opened = CompletableDeferred<Boolean>()
            opening = opened
            gatt = device.connectGatt(context, false, callback, BluetoothDevice.TRANSPORT_LE)
            if (withTimeoutOrNull(CONNECT_TIMEOUT_MS) { opened.await() } == true) return
            Log.w(TAG, "attempt $attempt of $CONNECT_ATTEMPTS failed")
            delay(RETRY_PAUSE_MS)
        }
        throw IOException("the bootloader does not answer")
    }

    suspend fun discover() {
        perform("discovery") { it.discoverServices() }
    }

    suspend fun negotiateMtu() {
        perform("MTU") { gatt ->
            val accepted = gatt.requestMtu(HiveGatt.MTU)
            Log.d(TAG, "MTU request accepted: $accepted")
            true
        }
    }

    suspend fun listen(characteristic: BluetoothGattCharacteristic) {
        val cccd = characteristic.getDescriptor(HiveGatt.CCCD) ?: throw IOException("no CCCD")
        perform("subscribe") { gatt ->
            gatt.setCharacteristicNotification(characteristic, true) &&
                gatt.writeCccd(cccd, characteristic.enableValue())
        }
    }

    suspend fun write(characteristic: BluetoothGattCharacteristic, value: ByteArray) {
        perform("write") { it.writeValue(characteristic, value) }
    }

    fun characteristic(uuid: UUID): BluetoothGattCharacteristic =
        gatt?.getService(HiveGatt.FIRMWARE_SERVICE)?.getCharacteristic(uuid)
            ?: throw IOException("not a bootloader: $uuid is missing")

    /** Commands want no answer, so a whole window goes out as fast as the radio takes it. */
    suspend fun stream(data: BluetoothGattCharacteristic, window: List<ByteArray>) {
        val link = gatt ?: throw IOException("not connected")
        data.writeType = BluetoothGattCharacteristic.WRITE_TYPE_NO_RESPONSE
        for (chunk in window) {
            data.value = chunk
            if (!link.writeCharacteristic(data)) throw IOException("chunk refused")
            delay(CHUNK_PAUSE_MS)
        }
    }

    /** One at a time: holds the turn until the matching callback has come. */
    private suspend fun perform(label: String, start: (BluetoothGatt) -> Boolean) {
        turn.withLock {
            val link = gatt ?: throw IOException("$label: not connected")
            val pending = CompletableDeferred<Int>()
            answer = pending
            if (!start(link)) throw IOException("$label: refused")
            val status = withTimeoutOrNull(OPERATION_TIMEOUT_MS) { pending.await() }
                ?: throw IOException("$label: no answer")
            if (status != BluetoothGatt.GATT_SUCCESS) throw IOException("$label: status $status")
        }
    }

    override fun close() {
        replies.close()
        gatt?.disconnect()
        gatt?.close()
        gatt = null
    }

    private val callback = object : BluetoothGattCallback() {

        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            val up = status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED
            opening?.complete(up)
            if (!up) answer?.complete(LINK_LOST)
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            answer?.complete(BluetoothGatt.GATT_SUCCESS)
        }

        override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS) payload = mtu - HiveGatt.ATT_HEADER
            answer?.complete(status)
        }

        override fun onCharacteristicWrite(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            status: Int,
        ) {
            answer?.complete(status)
        }

        override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
            answer?.complete(status)
        }

        @Deprecated("Until Android 12")
        override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
            characteristic.value?.let { replies.trySend(it.copyOf()) }
        }

        override fun onCharacteristicChanged(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
        ) {
            replies.trySend(value)
        }
    }

    private companion object {
        const val TAG = "FirmwareClient"
        const val CONNECT_ATTEMPTS = 3
        const val CONNECT_TIMEOUT_MS = 15_000L
        const val RETRY_PAUSE_MS = 1_500L
        const val OPERATION_TIMEOUT_MS = 10_000L
        const val CHUNK_PAUSE_MS = 8L

        /** GATT_FAILURE: whatever was waited for will not come. */
        const val LINK_LOST = BluetoothGatt.GATT_FAILURE
    }
}
