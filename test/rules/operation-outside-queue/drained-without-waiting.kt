package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Sender(private val gatt: BluetoothGatt, private val command: BluetoothGattCharacteristic) {
    private val outgoing = ArrayDeque<ByteArray>()

    fun send(value: ByteArray) {
        outgoing.addLast(value)
    }

    fun flush() {
        while (outgoing.isNotEmpty()) {
            command.value = outgoing.removeFirst()
            gatt.writeCharacteristic(command) //! operation-outside-queue warning
        }
    }
}
