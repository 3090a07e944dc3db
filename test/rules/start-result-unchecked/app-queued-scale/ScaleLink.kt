package hive.queued

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.content.Context
import java.util.UUID

interface ScaleListener {
    fun onReady()
    fun onWeight(grams: Int)
    fun onFailure(what: String)
    fun onGone()
}

class ScaleLink(private val context: Context, private val listener: ScaleListener) {
    private val queue = OperationQueue()
    private var gatt: BluetoothGatt? = null
    private var weight: BluetoothGattCharacteristic? = null
    private var command: BluetoothGattCharacteristic? = null

    fun open(scale: BluetoothDevice) {
        gatt?.close()
        gatt = scale.connectGatt(context, false, callback)
    }

    fun close() {
        queue.clear()
        gatt?.close()
        gatt = null
    }

    fun tare() {
        val target = command ?: return
        queue.enqueue("tare", listener::onFailure) { gatt?.send(target, byteArrayOf(1)) ?: false }
    }

    fun refresh() {
        val target = weight ?: return
        queue.enqueue("weight", listener::onFailure) { gatt?.readCharacteristic(target) ?: false }
    }

    /** The helper yields nothing: the queue is told that all is well. */
    fun refreshQuietly() {
        val target = weight ?: return
        queue.enqueue("weight") {
            gatt?.ask(target)
            true
        }
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
                if (!gatt.discoverServices()) gatt.disconnect()
                return
            }
            queue.clear()
            gatt.close()
            listener.onGone()
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            if (status != BluetoothGatt.GATT_SUCCESS) {
                listener.onFailure("discovery")
                gatt.disconnect()
                return
            }
            val hive = gatt.getService(HIVE)
            weight = hive?.getCharacteristic(WEIGHT)
            command = hive?.getCharacteristic(COMMAND)
            val cccd = weight?.getDescriptor(CCCD)
            val target = weight
            if (cccd != null && target != null) queue.enqueue("notifications", listener::onFailure) { gatt.switchOn(target, cccd) }
            listener.onReady()
        }

        override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS) take(characteristic.value) else listener.onFailure("read")
            queue.completed()
        }

        override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
            if (status != BluetoothGatt.GATT_SUCCESS) listener.onFailure("write")
            queue.completed()
        }

        override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) { //! status-unchecked warning
            queue.completed()
        }

        override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
            take(characteristic.value)
        }
    }

    private fun take(bytes: ByteArray) {
        listener.onWeight((bytes[0].toInt() and 0xff) or ((bytes[1].toInt() and 0xff) shl 8))
    }

    private companion object {
        val HIVE: UUID = UUID.fromString("df070100-7563-45da-9adc-777135148d9e")
        val WEIGHT: UUID = UUID.fromString("df070101-7563-45da-9adc-777135148d9e")
        val COMMAND: UUID = UUID.fromString("df070102-7563-45da-9adc-777135148d9e")
        val CCCD: UUID = UUID.fromString("00002902-0000-1000-8000-00805f9b34fb")
    }
}
