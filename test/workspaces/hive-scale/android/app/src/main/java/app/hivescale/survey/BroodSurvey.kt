@file:Suppress("MissingPermission", "DEPRECATION")

package app.hivescale.survey

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothGattService
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.os.Handler
import android.util.Log
import app.hivescale.gatt.HiveGatt
import app.hivescale.gatt.OperationQueue
import app.hivescale.gatt.cornerLoad
import app.hivescale.gatt.enableValue
import app.hivescale.gatt.frameTemperature
import app.hivescale.gatt.writeCccd
import java.util.UUID

/**
 * Two minutes of everything at once: where the brood sits, how the weight is spread, how loud the hive is. Runs on a
 * connection of its own so that the main screen may be closed meanwhile.
 */
class BroodSurvey(
    private val context: Context,
    private val handler: Handler,
    private val finished: (SurveyResult) -> Unit,
) {
    private val queue = OperationQueue(handler) { stop() }
    private val result = SurveyResult()
    private var gatt: BluetoothGatt? = null

    private val end = Runnable { stop() }

    fun start(device: BluetoothDevice) {
        gatt = device.connectGatt(
            context, false, callback, BluetoothDevice.TRANSPORT_LE, BluetoothDevice.PHY_LE_1M_MASK, handler,
        )
        handler.postDelayed(end, SURVEY_MS)
    }

    fun stop() {
        handler.removeCallbacks(end)
        gatt?.disconnect()
    }

    /** The whole of it; the firmware has supported this many since 2.1. */
    private fun listenToAll(gatt: BluetoothGatt) {
        val hive = checkNotNull(gatt.getService(HiveGatt.HIVE_SERVICE)) { "no hive service" }
        val environment = checkNotNull(gatt.getService(HiveGatt.ENVIRONMENT_SERVICE)) { "no environment service" }
        for (probe in HiveGatt.FRAME_PROBES) {
            listenTo(gatt, hive, probe)
        }
        for (cell in HiveGatt.LOAD_CELLS) {
            listenTo(gatt, hive, cell)
        }
        listenTo(gatt, environment, HiveGatt.TEMPERATURE)

        val sound = checkNotNull(hive.getCharacteristic(HiveGatt.SOUND_LEVEL)) { "no microphone" }
        check(gatt.setCharacteristicNotification(sound, true)) { "microphone not available" }
        enable(sound)
    }

    private fun listenTo(gatt: BluetoothGatt, service: BluetoothGattService, uuid: UUID) {
        val channel = checkNotNull(service.getCharacteristic(uuid)) { "no channel $uuid" }
        check(gatt.setCharacteristicNotification(channel, true)) { "channel $uuid not available" }
        enable(channel)
    }

    private fun enable(channel: BluetoothGattCharacteristic) {
        val cccd = checkNotNull(channel.getDescriptor(HiveGatt.CCCD)) { "channel ${channel.uuid} cannot notify" }
        queue.enqueue("enable ${channel.uuid}") { it.writeCccd(cccd, channel.enableValue()) }
    }

    private val callback = object : BluetoothGattCallback() {

        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status != BluetoothGatt.GATT_SUCCESS) {
                Log.w(TAG, "link ended with $status")
            }
            when {
                status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED -> {
                    if (!gatt.discoverServices()) stop()
                }
                else -> {
                    handler.removeCallbacks(end)
                    queue.abort("link ended")
                    finished(result)
                }
            }
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            when (status) {
                BluetoothGatt.GATT_SUCCESS -> try {
                    queue.attach(gatt)
                    listenToAll(gatt)
                } catch (e: IllegalStateException) {
                    Log.w(TAG, "survey not possible", e)
                    stop()
                }
                else -> stop()
            }
        }

        override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
            queue.complete(status)
        }

        @Deprecated("Until Android 12")
        override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
            characteristic.value?.let { result.add(characteristic.uuid, it) }
        }

        override fun onCharacteristicChanged(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
        ) {
            result.add(characteristic.uuid, value)
        }
    }

    private companion object {
        const val TAG = "BroodSurvey"
        const val SURVEY_MS = 120_000L
    }
}

/** What a survey has collected. */
class SurveyResult {
    private val frames = HashMap<Int, MutableList<Double>>()
    private val corners = HashMap<Int, Double>()

    /** The loudest band so far, 0 to 255. A hive about to swarm sings. */
    var loudest = 0
        private set

    fun add(uuid: UUID, value: ByteArray) {
        val frame = HiveGatt.FRAME_PROBES.indexOf(uuid)
        val corner = HiveGatt.LOAD_CELLS.indexOf(uuid)
        when {
            frame >= 0 -> value.frameTemperature()?.let { frames.getOrPut(frame) { mutableListOf() }.add(it) }
            corner >= 0 -> value.cornerLoad()?.let { corners[corner] = it }
            uuid == HiveGatt.SOUND_LEVEL -> loudest = maxOf(loudest, value.maxOfOrNull { it.toInt() and 0xff } ?: 0)
        }
    }

    /** Brood is kept at 34 to 36 degrees, come what may. */
    fun broodFrames(): List<Int> = frames.filterValues { it.average() in 33.5..36.5 }.keys.sorted()

    /** Share of the load on the heaviest corner; a quarter is perfectly level. */
    fun imbalance(): Double? {
        val total = corners.values.sum()
        return if (corners.size < HiveGatt.LOAD_CELLS.size || total <= 0) null else corners.values.max() / total
    }
}
