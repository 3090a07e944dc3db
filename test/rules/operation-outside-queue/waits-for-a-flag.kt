package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class Spinning(private val gatt: BluetoothGatt, private val command: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    @Volatile private var written = false

    fun send(chunks: List<ByteArray>) {
        for (chunk in chunks) {
            written = false
            command.value = chunk
            gatt.writeCharacteristic(command) //! operation-outside-queue hint
            while (!written) Thread.sleep(5)
        }
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        written = true
    }
}
