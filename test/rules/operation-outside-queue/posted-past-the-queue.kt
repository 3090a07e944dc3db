package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.os.Handler
import android.os.Looper

class ScaleLink(private val gatt: BluetoothGatt) : BluetoothGattCallback() {
    private val waiting = ArrayDeque<() -> Boolean>()
    private var running = false

    fun enqueue(operation: () -> Boolean) {
        waiting.addLast(operation)
        if (!running) next()
    }

    private fun next() {
        val operation = waiting.removeFirstOrNull()
        running = operation != null && operation()
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = next()

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = next()

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) = next()

    private val handler = Handler(Looper.getMainLooper())

    override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
        enqueue { gatt.readCharacteristic(characteristic) }
        handler.post {
            acknowledge(characteristic) //! operation-outside-queue warning
        }
    }

    private fun acknowledge(characteristic: BluetoothGattCharacteristic) {
        characteristic.value = byteArrayOf(6)
        gatt.writeCharacteristic(characteristic)
    }

    fun tare(command: BluetoothGattCharacteristic) = enqueue {
        acknowledge(command)
        true
    }
}
