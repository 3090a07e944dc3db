package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

abstract class Operation {
    abstract fun start(gatt: BluetoothGatt): Boolean
}

class Read(private val from: BluetoothGattCharacteristic) : Operation() {
    override fun start(gatt: BluetoothGatt) = gatt.readCharacteristic(from)
}

class Subscribe(private val to: BluetoothGattCharacteristic) : Operation() {
    override fun start(gatt: BluetoothGatt) = gatt.setCharacteristicNotification(to, true)
}

class Runner {
    private val waiting = ArrayDeque<Operation>()
    private var running: Operation? = null
    private var gatt: BluetoothGatt? = null

    fun attach(link: BluetoothGatt) {
        gatt = link
    }

    fun enqueue(operation: Operation) {
        waiting.addLast(operation)
        pump()
    }

    fun ended() {
        running = null
        pump()
    }

    private fun pump() {
        val link = gatt ?: return
        if (running != null) return
        val next = waiting.removeFirstOrNull() ?: return
        running = next
        if (!next.start(link)) ended()
    }
}
