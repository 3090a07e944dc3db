@file:Suppress("MissingPermission", "DEPRECATION")

package app.hivescale.gatt

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.os.Handler
import android.util.Log
import java.util.UUID

/**
 * The connection behind the main screen. Set-up (discovery, MTU) is chained through the callbacks; after that everything
 * goes through [queue].
 */
class ScaleLink(
    private val context: Context,
    private val handler: Handler,
    private val listener: Listener,
) {
    interface Listener {
        fun onReady()
        fun onValue(uuid: UUID, value: ByteArray)
        fun onSignal(rssi: Int)
        fun onClosed(reason: String)
    }

    val queue = OperationQueue(handler) { disconnect() }

    /** Bytes that fit into one write or notification. */
    var payload = HiveGatt.DEFAULT_PAYLOAD
        private set

    private var gatt: BluetoothGatt? = null

    private val setupTimeout = Runnable {
        close()
        listener.onClosed("the scale does not answer")
    }

    fun open(device: BluetoothDevice) {
        close()
        gatt = device.connectGatt(
            context, false, callback, BluetoothDevice.TRANSPORT_LE, BluetoothDevice.PHY_LE_1M_MASK, handler,
        )
        handler.postDelayed(setupTimeout, SETUP_TIMEOUT_MS)
    }

    /** Lets the scale go; the callback tidies up. */
    fun disconnect() {
        gatt?.disconnect()
    }

    fun close() {
        handler.removeCallbacks(setupTimeout)
        queue.abort("closed")
        gatt?.close()
        gatt = null
        payload = HiveGatt.DEFAULT_PAYLOAD
    }

    // ---- Values ----

    /** Weight, climate, alarm, battery and all frames. */
    fun startLive() {
        subscribe(HiveGatt.HIVE_SERVICE, HiveGatt.WEIGHT)
        subscribe(HiveGatt.HIVE_SERVICE, HiveGatt.ALARM)
        subscribe(HiveGatt.ENVIRONMENT_SERVICE, HiveGatt.TEMPERATURE)
        subscribe(HiveGatt.BATTERY_SERVICE, HiveGatt.BATTERY_LEVEL)
        for (probe in HiveGatt.FRAME_PROBES) {
            subscribe(HiveGatt.HIVE_SERVICE, probe)
        }
    }

    fun read(service: UUID, uuid: UUID) {
        val characteristic = find(service, uuid) ?: return
        queue.enqueue("read $uuid") { gatt -> gatt.readCharacteristic(characteristic) }
    }

    fun write(service: UUID, uuid: UUID, value: ByteArray, done: (Outcome) -> Unit = {}) {
        val characteristic = find(service, uuid) ?: return done(Outcome.Failed("the scale has no $uuid"))
        if (value.size > payload) return done(Outcome.Failed("${value.size} bytes do not fit"))
        queue.enqueue("write $uuid", done = done) { gatt -> gatt.writeValue(characteristic, value) }
    }

    fun refreshSignal() {
        queue.enqueue("signal", timeoutMs = 3_000) { it.readRemoteRssi() }
    }

    /** Pull to refresh: the beekeeper is looking at the screen, so don't wait for the frames. */
    fun readNow(service: UUID, uuid: UUID): Boolean {
        val link = gatt ?: return false
        val characteristic = find(service, uuid) ?: return false
        return link.readCharacteristic(characteristic)
    }

    /** Restarts the scale into its bootloader. It does not answer this one. */
    fun reboot(): Boolean {
        val link = gatt ?: return false
        val command = find(HiveGatt.HIVE_SERVICE, HiveGatt.COMMAND) ?: return false
        command.writeType = BluetoothGattCharacteristic.WRITE_TYPE_NO_RESPONSE
        command.value = Command.REBOOT
        // linkwright accepts operation-outside-queue: the restart drops whatever waits, so there is nothing to wait for
        return link.writeCharacteristic(command)
    }

    private fun subscribe(service: UUID, uuid: UUID) {
        val link = gatt ?: return
        val characteristic = find(service, uuid) ?: return
        if (!link.setCharacteristicNotification(characteristic, true)) {
            Log.w(TAG, "no notifications for $uuid")
            return
        }
        val cccd = characteristic.getDescriptor(HiveGatt.CCCD) ?: return
        queue.enqueue("subscribe $uuid") { gatt -> gatt.writeCccd(cccd, characteristic.enableValue()) }
    }

    private fun find(service: UUID, uuid: UUID): BluetoothGattCharacteristic? {
        val found = gatt?.getService(service)?.getCharacteristic(uuid)
        if (found == null) Log.w(TAG, "the scale has no $uuid")
        return found
    }

    private fun ready(gatt: BluetoothGatt) {
        handler.removeCallbacks(setupTimeout)
        queue.attach(gatt)
        listener.onReady()
    }

    // ---- What the system reports ----

    private val callback = object : BluetoothGattCallback() {

        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
                gatt.requestConnectionPriority(BluetoothGatt.CONNECTION_PRIORITY_HIGH)
                if (!gatt.discoverServices()) gatt.disconnect()
                return
            }
            close()
            listener.onClosed("disconnected, status $status")
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            if (status != BluetoothGatt.GATT_SUCCESS) {
                Log.w(TAG, "discovery failed with $status")
                disconnect()
                return
            }
            if (!gatt.requestMtu(HiveGatt.MTU)) ready(gatt)
        }

        override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
            payload = mtu - HiveGatt.ATT_HEADER
            ready(gatt)
        }

        override fun onPhyUpdate(gatt: BluetoothGatt, txPhy: Int, rxPhy: Int, status: Int) {
            Log.d(TAG, "PHY now tx=$txPhy rx=$rxPhy")
        }

        @Deprecated("Until Android 12")
        override fun onCharacteristicRead(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            status: Int,
        ) {
            onRead(characteristic, characteristic.value ?: ByteArray(0), status)
        }

        override fun onCharacteristicRead(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
            status: Int,
        ) {
            onRead(characteristic, value, status)
        }

        override fun onCharacteristicWrite(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            status: Int,
        ) {
            queue.complete(status)
        }

        override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
            queue.complete(status)
        }

        override fun onReadRemoteRssi(gatt: BluetoothGatt, rssi: Int, status: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS) listener.onSignal(rssi)
            queue.complete(status)
        }

        @Deprecated("Until Android 12")
        override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
            val value = characteristic.value ?: return
            listener.onValue(characteristic.uuid, value.copyOf())
        }

        override fun onCharacteristicChanged(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
        ) {
            listener.onValue(characteristic.uuid, value)
        }
    }

    private fun onRead(characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) {
            listener.onValue(characteristic.uuid, value)
        }
        queue.complete(status, value)
    }

    private companion object {
        const val TAG = "ScaleLink"
        const val SETUP_TIMEOUT_MS = 20_000L
    }
}
