package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import java.util.concurrent.LinkedBlockingQueue
import kotlin.concurrent.thread

class Worker(private val gatt: BluetoothGatt, private val command: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    private val outgoing = LinkedBlockingQueue<ByteArray>()
    private val lock = Object()
    private var written = false

    private val loop = thread {
        while (true) {
            val value = outgoing.take()
            written = false
            command.value = value
            if (!gatt.writeCharacteristic(command)) continue
            synchronized(lock) { while (!written) lock.wait(1000) }
        }
    }

    fun send(value: ByteArray) = outgoing.put(value)

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        synchronized(lock) {
            written = true
            lock.notifyAll()
        }
    }
}
