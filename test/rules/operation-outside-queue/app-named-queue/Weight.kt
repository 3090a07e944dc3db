package hive.turns

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Weight(private val turns: Turns, private val gatt: BluetoothGatt, private val weight: BluetoothGattCharacteristic) {
    suspend fun read(): Int = turns.next { gatt.readCharacteristic(weight) }

    suspend fun readAll(others: List<BluetoothGattCharacteristic>): List<Int> = others.map { other -> turns.next { start(other) } }

    /** Only what is called through the queue leads here. */
    private fun start(other: BluetoothGattCharacteristic): Boolean = gatt.readCharacteristic(other)

    fun readNow(): Boolean = gatt.readCharacteristic(weight) //! operation-outside-queue warning
}
