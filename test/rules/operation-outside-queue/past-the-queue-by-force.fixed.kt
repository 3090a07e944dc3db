package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

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

    fun write(command: BluetoothGattCharacteristic, force: Boolean) {
        if (force) {
            enqueue { gatt.writeCharacteristic(command) }
        } else {
            enqueue { gatt.writeCharacteristic(command) }
        }
    }
}
