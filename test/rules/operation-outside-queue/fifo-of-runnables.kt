package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.os.Handler
import java.util.Queue
import java.util.concurrent.ConcurrentLinkedQueue

/** Filled from anywhere; each callback takes the next one out. */
class ScaleLink(private val gatt: BluetoothGatt, private val handler: Handler) : BluetoothGattCallback() {
    private val queue: Queue<Runnable> = ConcurrentLinkedQueue()
    private var busy = false

    fun readWeight(weight: BluetoothGattCharacteristic) {
        put(Runnable { if (!gatt.readCharacteristic(weight)) completed() })
    }

    fun listen(weight: BluetoothGattCharacteristic) {
        put(object : Runnable {
            override fun run() {
                val cccd = weight.descriptors.firstOrNull() ?: return completed()
                gatt.setCharacteristicNotification(weight, true)
                if (!gatt.writeDescriptor(cccd)) completed()
            }
        })
    }

    fun tare(command: BluetoothGattCharacteristic) = put(writing(command, byteArrayOf(1)))

    private fun writing(command: BluetoothGattCharacteristic, value: ByteArray) = Runnable {
        command.value = value
        if (!gatt.writeCharacteristic(command)) completed()
    }

    private fun put(operation: Runnable) {
        queue.add(operation)
        pump()
    }

    private fun pump() {
        if (busy) return
        val operation = queue.peek() ?: return
        busy = true
        handler.post { operation.run() }
    }

    private fun completed() {
        busy = false
        queue.poll()
        pump()
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = completed()

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = completed()

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) = completed()
}
