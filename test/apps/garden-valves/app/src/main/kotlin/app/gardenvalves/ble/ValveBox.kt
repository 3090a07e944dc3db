@file:Suppress("MissingPermission", "DEPRECATION")

package app.gardenvalves.ble

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.os.Handler
import android.os.Looper
import app.gardenvalves.ble.Operation.Answer
import java.io.Closeable
import java.util.UUID

/** The box in the garden, as the screens see it. Answers come on the main thread. */
class ValveBox(private val context: Context, private val listener: Listener) : Closeable {

    interface Listener {
        fun onReady()
        fun onGone(why: String)
        fun onValves(open: BooleanArray)
        fun onMoisture(bed: Int, percent: Int)
        fun onBattery(percent: Int)
    }

    private val handler = Handler(Looper.getMainLooper())
    private val runner = OperationRunner(handler) { lost("the box does not answer") }
    private var gatt: BluetoothGatt? = null

    fun open(device: BluetoothDevice) {
        close()
        gatt = device.connectGatt(context, false, callback, BluetoothDevice.TRANSPORT_LE)
    }

    override fun close() {
        runner.cancelAll("closed")
        gatt?.let { link ->
            link.disconnect()
            link.close()
        }
        gatt = null
    }

    /** Opens a valve for some minutes, or closes it with zero. */
    fun water(valve: Int, minutes: Int, done: (String?) -> Unit) {
        require(valve in 0 until VALVES && minutes in 0..MOST_MINUTES)
        write(ValveGatt.COMMAND, byteArrayOf(valve.toByte(), minutes.toByte(), CHECK), done)
    }

    fun savePlan(plan: ByteArray, done: (String?) -> Unit) = write(ValveGatt.PLAN, plan, done)

    fun loadPlan(done: (ByteArray?) -> Unit) {
        val plan = find(ValveGatt.VALVES, ValveGatt.PLAN) ?: return done(null)
        runner.enqueue(Operation.Read(plan) { answer -> onMain { done((answer as? Answer.Value)?.bytes) } })
    }

    private fun write(uuid: UUID, bytes: ByteArray, done: (String?) -> Unit) {
        val target = find(ValveGatt.VALVES, uuid) ?: return done("not connected")
        runner.enqueue(
            Operation.Write(target, bytes) { answer ->
                onMain { done((answer as? Answer.Refused)?.why) }
            },
        )
    }

    private fun find(service: UUID, uuid: UUID): BluetoothGattCharacteristic? =
        gatt?.getService(service)?.getCharacteristic(uuid)

    // ---- Setting up ----

    private fun prepare(link: BluetoothGatt) {
        runner.attach(link)
        runner.enqueue(Operation.Mtu(ValveGatt.MTU) { })
        runner.enqueue(
            Operation.Discover { answer ->
                if (answer is Answer.Refused) lost(answer.why) else subscribeToAll()
            },
        )
    }

    private fun subscribeToAll() {
        subscribe(ValveGatt.VALVES, ValveGatt.STATE)
        subscribe(ValveGatt.BATTERY, ValveGatt.BATTERY_LEVEL)
        ValveGatt.BEDS.forEach { bed -> subscribe(ValveGatt.MOISTURE, bed) }
        val state = find(ValveGatt.VALVES, ValveGatt.STATE) ?: return lost("this is no valve box")
        runner.enqueue(
            Operation.Read(state) { answer ->
                if (answer is Answer.Value) {
                    received(ValveGatt.STATE, answer.bytes)
                    onMain { listener.onReady() }
                } else {
                    lost("the state cannot be read")
                }
            },
        )
    }

    /** A bed without a probe is no reason to stop. */
    private fun subscribe(service: UUID, uuid: UUID) {
        val target = find(service, uuid) ?: return
        runner.enqueue(Operation.Subscribe(target) { })
    }

    private fun lost(why: String) = onMain {
        close()
        listener.onGone(why)
    }

    private fun onMain(block: () -> Unit) {
        handler.post { block() }
    }

    private fun received(uuid: UUID, bytes: ByteArray) = onMain {
        val bed = ValveGatt.BEDS.indexOf(uuid)
        when {
            bed >= 0 && bytes.size == 2 -> listener.onMoisture(bed, bytes[0].toInt())
            uuid == ValveGatt.STATE -> listener.onValves(BooleanArray(bytes.size) { bytes[it] != OFF })
            uuid == ValveGatt.BATTERY_LEVEL && bytes.isNotEmpty() -> listener.onBattery(bytes[0].toInt())
        }
    }

    private val callback = object : BluetoothGattCallback() {

        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            val connected = newState == BluetoothProfile.STATE_CONNECTED
            if (connected && status == BluetoothGatt.GATT_SUCCESS) prepare(gatt) else lost("status $status")
        }

        override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) = runner.report(status)

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) = runner.report(status)

        @Deprecated("Called up to Android 12")
        override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) =
            runner.report(status, characteristic.value)

        override fun onCharacteristicRead(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
            status: Int,
        ) = runner.report(status, value)

        override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) =
            runner.report(status)

        override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) =
            runner.report(status)

        @Deprecated("Called up to Android 12")
        override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
            characteristic.value?.let { received(characteristic.uuid, it.clone()) }
        }

        override fun onCharacteristicChanged(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
        ) {
            received(characteristic.uuid, value)
        }
    }

    private companion object {
        const val VALVES = 4
        const val MOST_MINUTES = 90
        const val CHECK: Byte = 0x5a
        const val OFF: Byte = 0
    }
}
