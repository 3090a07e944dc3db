package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import java.util.concurrent.ConcurrentLinkedQueue

sealed class Operation {
    data class Read(val characteristic: BluetoothGattCharacteristic) : Operation()
    data class Write(val characteristic: BluetoothGattCharacteristic, val value: ByteArray) : Operation()
    data class Listen(val descriptor: BluetoothGattDescriptor) : Operation()
    object Signal : Operation()
}

class ScaleLink(private val gatt: BluetoothGatt) : BluetoothGattCallback() {
    private val operations = ConcurrentLinkedQueue<Operation>()
    private var pending: Operation? = null

    fun read(characteristic: BluetoothGattCharacteristic) = enqueue(Operation.Read(characteristic))

    fun signal() = enqueue(Operation.Signal)

    @Synchronized
    private fun enqueue(operation: Operation) {
        operations.add(operation)
        if (pending == null) doNext()
    }

    @Synchronized
    private fun doNext() {
        if (pending != null) return
        val operation = operations.poll() ?: return
        pending = operation
        when (operation) {
            is Operation.Read -> gatt.readCharacteristic(operation.characteristic)
            is Operation.Write -> write(operation)
            is Operation.Listen -> gatt.writeDescriptor(operation.descriptor)
            Operation.Signal -> gatt.readRemoteRssi()
        }
    }

    private fun write(operation: Operation.Write) {
        operation.characteristic.value = operation.value
        gatt.writeCharacteristic(operation.characteristic)
    }

    @Synchronized
    private fun ended() {
        pending = null
        if (operations.isNotEmpty()) doNext()
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = ended()

    override fun onReadRemoteRssi(gatt: BluetoothGatt, rssi: Int, status: Int) = ended()
}
