@file:Suppress("MissingPermission", "DEPRECATION")

package app.frostwatch

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.bluetooth.BluetoothStatusCodes
import android.content.Context
import android.os.Build
import android.os.Handler
import android.util.Log

/**
 * One connection to one sensor. The set-up is a chain: each step is started by the completion of the one before, and the
 * link is in use only after the last. Any step that fails ends the connection; the owner decides about the next try.
 */
class FrostLink(
    private val context: Context,
    private val handler: Handler,
    private val listener: Listener,
) : BluetoothGattCallback() {

    interface Listener {
        fun onReady()
        fun onReadings(readings: Readings)
        fun onLost(reason: String)
    }

    private enum class Phase { IDLE, CONNECTING, SETTING_UP, READY, WRITING }

    private var gatt: BluetoothGatt? = null
    private var readings = Readings()

    @Volatile
    private var phase = Phase.IDLE

    fun open(device: BluetoothDevice) {
        close()
        phase = Phase.CONNECTING
        readings = Readings()
        gatt = device.connectGatt(context, false, this, BluetoothDevice.TRANSPORT_LE)
        if (gatt == null) {
            phase = Phase.IDLE
            listener.onLost("Bluetooth is off")
        }
    }

    fun close() {
        phase = Phase.IDLE
        gatt?.close()
        gatt = null
    }

    /** False: not now, because the link is not up or still busy with the write before. */
    @Synchronized
    fun setAlarm(degrees: Double): Boolean {
        val link = gatt ?: return false
        if (phase != Phase.READY) return false
        val alarm = link.find(FrostGatt.ALARM_BELOW) ?: return false
        phase = Phase.WRITING
        val accepted = write(link, alarm, hundredthsOf(degrees))
        if (!accepted) phase = Phase.READY
        return accepted
    }

    private fun write(link: BluetoothGatt, target: BluetoothGattCharacteristic, value: ByteArray): Boolean {
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
            val type = BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT
            return link.writeCharacteristic(target, value, type) == BluetoothStatusCodes.SUCCESS
        }
        target.value = value
        return link.writeCharacteristic(target)
    }

    // ---- The chain: connected, services, alarm, battery, subscription ----

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) {
            fail(gatt, "status $status")
            return
        }
        when (newState) {
            BluetoothProfile.STATE_CONNECTED -> {
                phase = Phase.SETTING_UP
                if (!gatt.discoverServices()) fail(gatt, "discovery refused")
            }
            BluetoothProfile.STATE_DISCONNECTED -> fail(gatt, "the sensor has gone")
        }
    }

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) {
            fail(gatt, "discovery ended with $status")
            return
        }
        val alarm = gatt.find(FrostGatt.ALARM_BELOW)
        if (alarm == null || !gatt.readCharacteristic(alarm)) fail(gatt, "no alarm threshold")
    }

    @Deprecated("Called up to Android 12")
    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        onCharacteristicRead(gatt, characteristic, characteristic.value ?: ByteArray(0), status)
    }

    override fun onCharacteristicRead(
        gatt: BluetoothGatt,
        characteristic: BluetoothGattCharacteristic,
        value: ByteArray,
        status: Int,
    ) {
        if (status != BluetoothGatt.GATT_SUCCESS) {
            fail(gatt, "a read ended with $status")
            return
        }
        when (characteristic.uuid) {
            FrostGatt.ALARM_BELOW -> {
                publish(readings.copy(alarmBelow = value.hundredths()))
                val battery = gatt.getService(FrostGatt.BATTERY_SERVICE)?.getCharacteristic(FrostGatt.BATTERY_LEVEL)
                if (battery == null) {
                    subscribe(gatt)
                } else if (!gatt.readCharacteristic(battery)) {
                    fail(gatt, "battery refused")
                }
            }
            FrostGatt.BATTERY_LEVEL -> {
                publish(readings.copy(battery = value.percent()))
                subscribe(gatt)
            }
        }
    }

    /** The last step. */
    private fun subscribe(gatt: BluetoothGatt) {
        val air = gatt.find(FrostGatt.AIR)
        val cccd = air?.getDescriptor(FrostGatt.CCCD)
        if (air == null || cccd == null) return fail(gatt, "no temperature")
        if (!gatt.setCharacteristicNotification(air, true)) return fail(gatt, "no notifications")
        if (!enable(gatt, cccd)) fail(gatt, "subscription refused")
    }

    private fun enable(gatt: BluetoothGatt, cccd: BluetoothGattDescriptor): Boolean =
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
            gatt.writeDescriptor(cccd, BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE) == BluetoothStatusCodes.SUCCESS
        } else {
            cccd.value = BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE
            gatt.writeDescriptor(cccd)
        }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) {
            phase = Phase.READY
            handler.post { listener.onReady() }
        } else {
            fail(gatt, "subscription ended with $status")
        }
    }

    // ---- In use ----

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        phase = Phase.READY
        if (status != BluetoothGatt.GATT_SUCCESS) {
            Log.w(TAG, "the alarm threshold was not taken: $status")
            publish(readings.copy(alarmBelow = null))
        }
    }

    @Deprecated("Called up to Android 12")
    override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
        onCharacteristicChanged(gatt, characteristic, characteristic.value ?: return)
    }

    override fun onCharacteristicChanged(
        gatt: BluetoothGatt,
        characteristic: BluetoothGattCharacteristic,
        value: ByteArray,
    ) {
        if (characteristic.uuid == FrostGatt.AIR) publish(readings.copy(air = value.hundredths()))
    }

    private fun publish(next: Readings) {
        readings = next
        handler.post { listener.onReadings(next) }
    }

    private fun fail(gatt: BluetoothGatt, reason: String) {
        Log.i(TAG, reason)
        gatt.close()
        if (gatt != this.gatt) return
        this.gatt = null
        phase = Phase.IDLE
        handler.post { listener.onLost(reason) }
    }

    private fun BluetoothGatt.find(uuid: java.util.UUID): BluetoothGattCharacteristic? =
        getService(FrostGatt.SERVICE)?.getCharacteristic(uuid)

    private companion object {
        const val TAG = "FrostLink"
    }
}
