package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

/** The slot is free when the callback comes, and the queue's again once it has gone on. */
class WeightReader(private val gatt: BluetoothGatt, private val weight: BluetoothGattCharacteristic, private val battery: BluetoothGattCharacteristic) {
    private val waiting = ArrayDeque<() -> Boolean>()
    private var busy = false

    fun refresh() {
        enqueue { gatt.readCharacteristic(weight) }
        enqueue { gatt.writeCharacteristic(battery) }
    }

    private fun enqueue(start: () -> Boolean) {
        waiting.addLast(start)
        next()
    }

    private fun next() {
        if (busy) return
        val start = waiting.removeFirstOrNull() ?: return
        busy = true
        if (!start()) finished()
    }

    private fun finished() {
        busy = false
        next()
    }

    val callback = object : BluetoothGattCallback() {
        override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
            finished()
            if (status != BluetoothGatt.GATT_SUCCESS) gatt.readCharacteristic(battery) //! operation-outside-queue warning
        }

        override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
            if (status != BluetoothGatt.GATT_SUCCESS && gatt.readCharacteristic(characteristic)) return
            finished()
        }
    }
}
