@file:Suppress("MissingPermission", "DEPRECATION")

package app.kilnlog

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.bluetooth.BluetoothStatusCodes
import android.content.Context
import android.os.Build
import kotlinx.coroutines.CancellableContinuation
import kotlinx.coroutines.TimeoutCancellationException
import kotlinx.coroutines.flow.Flow
import kotlinx.coroutines.flow.MutableSharedFlow
import kotlinx.coroutines.flow.MutableStateFlow
import kotlinx.coroutines.flow.StateFlow
import kotlinx.coroutines.flow.filter
import kotlinx.coroutines.flow.map
import kotlinx.coroutines.suspendCancellableCoroutine
import kotlinx.coroutines.sync.Mutex
import kotlinx.coroutines.sync.withLock
import kotlinx.coroutines.withTimeout
import java.io.Closeable
import java.io.IOException
import java.util.UUID
import java.util.concurrent.atomic.AtomicReference
import kotlin.coroutines.resume
import kotlin.coroutines.resumeWithException

class GattException(message: String) : IOException(message)

/**
 * A GATT connection whose operations suspend until the peripheral has answered, and throw [GattException] when it refused.
 * They may be called from anywhere: [turn] lets one through at a time.
 */
class GattClient private constructor() : Closeable {

    private val turn = Mutex()
    private val pending = AtomicReference<CancellableContinuation<ByteArray>?>(null)
    private val changes = MutableSharedFlow<Pair<UUID, ByteArray>>(extraBufferCapacity = 32)
    private val connected = MutableStateFlow(false)
    private lateinit var gatt: BluetoothGatt

    val isConnected: StateFlow<Boolean> = connected

    fun changesOf(uuid: UUID): Flow<ByteArray> = changes.filter { it.first == uuid }.map { it.second }

    suspend fun discover() {
        operation("discovery") { it.discoverServices() }
    }

    suspend fun read(service: UUID, uuid: UUID): ByteArray {
        val from = find(service, uuid)
        return operation("read of $uuid") { it.readCharacteristic(from) }
    }

    suspend fun write(service: UUID, uuid: UUID, value: ByteArray) {
        val to = find(service, uuid)
        operation("write to $uuid") { gatt ->
            if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
                gatt.writeCharacteristic(to, value, WITH_RESPONSE) == BluetoothStatusCodes.SUCCESS
            } else {
                to.value = value
                gatt.writeCharacteristic(to)
            }
        }
    }

    suspend fun subscribe(service: UUID, uuid: UUID) {
        val to = find(service, uuid)
        val cccd = to.getDescriptor(KilnGatt.CCCD) ?: throw GattException("$uuid cannot notify")
        if (!gatt.setCharacteristicNotification(to, true)) throw GattException("no notifications of $uuid")
        operation("subscription to $uuid") { gatt ->
            val on = BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE
            if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
                gatt.writeDescriptor(cccd, on) == BluetoothStatusCodes.SUCCESS
            } else {
                cccd.value = on
                gatt.writeDescriptor(cccd)
            }
        }
    }

    override fun close() {
        connected.value = false
        fail("closed")
        if (::gatt.isInitialized) gatt.close()
    }

    private fun find(service: UUID, uuid: UUID): BluetoothGattCharacteristic =
        gatt.getService(service)?.getCharacteristic(uuid) ?: throw GattException("$uuid is missing")

    /**
     * Holds the turn until the answer has come. Once somebody stops waiting, nobody knows whose answer comes next, so the
     * link goes.
     */
    private suspend fun operation(what: String, start: (BluetoothGatt) -> Boolean): ByteArray = turn.withLock {
        if (!connected.value) throw GattException("$what: not connected")
        try {
            withTimeout(ANSWER_MS) {
                suspendCancellableCoroutine { waiting ->
                    pending.set(waiting)
                    waiting.invokeOnCancellation { close() }
                    if (!start(gatt)) {
                        pending.set(null)
                        waiting.resumeWithException(GattException("$what: refused"))
                    }
                }
            }
        } catch (e: TimeoutCancellationException) {
            throw GattException("$what: no answer")
        }
    }

    private fun answer(status: Int, value: ByteArray = NOTHING) {
        val waiting = pending.getAndSet(null) ?: return
        if (status == BluetoothGatt.GATT_SUCCESS) {
            waiting.resume(value)
        } else {
            waiting.resumeWithException(GattException("status $status"))
        }
    }

    private fun fail(why: String) {
        pending.getAndSet(null)?.resumeWithException(GattException(why))
    }

    private inner class Callback(private val opened: CancellableContinuation<Unit>) : BluetoothGattCallback() {

        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (newState == BluetoothProfile.STATE_CONNECTED && status == BluetoothGatt.GATT_SUCCESS) {
                connected.value = true
                if (opened.isActive) opened.resume(Unit)
                return
            }
            connected.value = false
            if (opened.isActive) opened.resumeWithException(GattException("no connection: status $status"))
            fail("the link was lost")
            gatt.close()
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) = answer(status)

        @Deprecated("Called up to Android 12")
        override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) =
            answer(status, characteristic.value ?: NOTHING)

        override fun onCharacteristicRead(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
            status: Int,
        ) = answer(status, value)

        override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) =
            answer(status)

        override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) = answer(status)

        @Deprecated("Called up to Android 12")
        override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
            changes.tryEmit(characteristic.uuid to (characteristic.value ?: return).copyOf())
        }

        override fun onCharacteristicChanged(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
        ) {
            changes.tryEmit(characteristic.uuid to value)
        }
    }

    companion object {
        private const val ANSWER_MS = 10_000L
        private const val WITH_RESPONSE = BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT
        private val NOTHING = ByteArray(0)

        /** Suspends until the device is connected; the caller closes what it gets. */
        suspend fun connect(context: Context, device: BluetoothDevice): GattClient {
            val client = GattClient()
            try {
                suspendCancellableCoroutine<Unit> { opened ->
                    client.gatt = device.connectGatt(context, false, client.Callback(opened), BluetoothDevice.TRANSPORT_LE)
                }
            } catch (e: Exception) {
                client.close()
                throw e
            }
            return client
        }
    }
}
