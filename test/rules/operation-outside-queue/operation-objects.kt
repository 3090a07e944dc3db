package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import java.util.LinkedList

interface Job {
    fun execute(gatt: BluetoothGatt): Boolean
}

class ReadJob(private val characteristic: BluetoothGattCharacteristic) : Job {
    override fun execute(gatt: BluetoothGatt) = gatt.readCharacteristic(characteristic)
}

class WriteJob(private val characteristic: BluetoothGattCharacteristic, private val value: ByteArray) : Job {
    override fun execute(gatt: BluetoothGatt): Boolean {
        characteristic.value = value
        return gatt.writeCharacteristic(characteristic)
    }
}

class Jobs(private val gatt: BluetoothGatt) : BluetoothGattCallback() {
    private val jobs = LinkedList<Job>()
    private var running: Job? = null

    fun add(job: Job) {
        jobs.add(job)
        next()
    }

    private fun next() {
        if (running != null) return
        running = jobs.poll() ?: return
        if (!running!!.execute(gatt)) ended()
    }

    private fun ended() {
        running = null
        next()
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = ended()

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = ended()
}

class Panel(private val jobs: Jobs, private val weight: BluetoothGattCharacteristic, private val command: BluetoothGattCharacteristic) {
    fun refresh() {
        jobs.add(ReadJob(weight))
        jobs.add(WriteJob(command, byteArrayOf(1)))
    }
}
