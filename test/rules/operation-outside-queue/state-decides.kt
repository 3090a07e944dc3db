package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

enum class State { IDLE, READING, WRITING }

class Machine(private val gatt: BluetoothGatt, private val weight: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    private var state = State.IDLE

    fun read() {
        if (state != State.IDLE) return
        state = State.READING
        gatt.readCharacteristic(weight)
    }

    fun write() {
        when (state) {
            State.IDLE -> {
                state = State.WRITING
                gatt.writeCharacteristic(weight)
            }
            else -> return
        }
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        state = State.IDLE
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        state = State.IDLE
    }
}
