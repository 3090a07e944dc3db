@file:Suppress("MissingPermission", "DEPRECATION")

package app.hivescale.snapshot

import android.app.Service
import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothManager
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.content.Intent
import android.os.Handler
import android.os.IBinder
import android.os.Looper
import android.util.Log
import app.hivescale.gatt.HiveGatt
import app.hivescale.gatt.Weight
import app.hivescale.gatt.batteryPercent
import app.hivescale.gatt.weight

/** What one visit brought home. */
data class Snapshot(val battery: Int? = null, val weight: Weight? = null, val rssi: Int? = null)

/**
 * Fetches battery, weight and signal of one scale and stops. Started from the list of hives while the app is in front.
 * Three values are not worth a queue: each step starts the next one.
 */
class SnapshotService : Service() {

    private val handler = Handler(Looper.getMainLooper())
    private var gatt: BluetoothGatt? = null
    private var snapshot = Snapshot()
    private var awaitsSignal = false

    private val deadline = Runnable { giveUp("took too long") }

    override fun onBind(intent: Intent?): IBinder? = null

    override fun onStartCommand(intent: Intent?, flags: Int, startId: Int): Int {
        val address = intent?.getStringExtra(EXTRA_ADDRESS)
        val adapter = (getSystemService(Context.BLUETOOTH_SERVICE) as BluetoothManager).adapter
        if (address == null || adapter == null) {
            stopSelf()
            return START_NOT_STICKY
        }
        handler.removeCallbacks(deadline)
        handler.postDelayed(deadline, DEADLINE_MS)
        snapshot = Snapshot()
        awaitsSignal = false
        gatt?.close()
        gatt = adapter.getRemoteDevice(address)
            .connectGatt(this, false, callback, BluetoothDevice.TRANSPORT_LE, BluetoothDevice.PHY_LE_1M_MASK, handler)
        return START_NOT_STICKY
    }

    override fun onDestroy() {
        handler.removeCallbacks(deadline)
        gatt?.disconnect()
        gatt?.close()
        gatt = null
        super.onDestroy()
    }

    private fun giveUp(reason: String) {
        Log.w(TAG, "no snapshot: $reason")
        stopSelf()
    }

    private fun deliver() {
        latest?.invoke(snapshot)
        stopSelf()
    }

    private val callback = object : BluetoothGattCallback() {

        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) = when {
            status != BluetoothGatt.GATT_SUCCESS -> giveUp("status $status")
            newState == BluetoothProfile.STATE_CONNECTED -> if (!gatt.requestMtu(HiveGatt.MTU)) giveUp("refused") else Unit
            else -> giveUp("disconnected")
        }

        override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
            // Whatever came of it: battery and weight fit into the smallest MTU there is.
            if (!gatt.discoverServices()) giveUp("discovery refused")
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            if (status != BluetoothGatt.GATT_SUCCESS) return giveUp("discovery ended with $status")
            gatt.getService(HiveGatt.BATTERY_SERVICE)
                ?.getCharacteristic(HiveGatt.BATTERY_LEVEL)
                ?.let { gatt.readCharacteristic(it) }
                ?: giveUp("no battery service")
        }

        @Deprecated("Until Android 12")
        override fun onCharacteristicRead(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            status: Int,
        ) {
            onCharacteristicRead(gatt, characteristic, characteristic.value ?: ByteArray(0), status)
        }

        override fun onCharacteristicRead(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
            status: Int,
        ) {
            if (status != BluetoothGatt.GATT_SUCCESS) {
                giveUp("read ended with $status")
                return
            }
            when (characteristic.uuid) {
                HiveGatt.BATTERY_LEVEL -> {
                    snapshot = snapshot.copy(battery = value.batteryPercent())
                    val weight = gatt.getService(HiveGatt.HIVE_SERVICE)?.getCharacteristic(HiveGatt.WEIGHT)
                    if (weight == null || !gatt.readCharacteristic(weight)) {
                        giveUp("weight not available")
                        return
                    }
                    awaitsSignal = gatt.readRemoteRssi()
                }
                HiveGatt.WEIGHT -> {
                    snapshot = snapshot.copy(weight = value.weight())
                    if (!awaitsSignal) deliver()
                }
            }
        }

        override fun onReadRemoteRssi(gatt: BluetoothGatt, rssi: Int, status: Int) {
            awaitsSignal = false
            snapshot = snapshot.copy(rssi = rssi.takeIf { status == BluetoothGatt.GATT_SUCCESS })
            if (snapshot.weight != null) deliver()
        }

        /* Firmware 1.x sent the weight only after a subscription. Leave this here until the last of them is gone.
        override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
            gatt.readCharacteristic(descriptor.characteristic)
        }
        */
    }

    companion object {
        private const val TAG = "SnapshotService"
        private const val DEADLINE_MS = 30_000L
        const val EXTRA_ADDRESS = "app.hivescale.extra.ADDRESS"

        /** The list of hives, while it is on the screen. */
        var latest: ((Snapshot) -> Unit)? = null
    }
}
