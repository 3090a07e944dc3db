package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class Console(private val gatt: BluetoothGatt, private val input: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    private val lines = ArrayDeque<ByteArray>()
    private var writing = false

    fun send(line: ByteArray) {
        synchronized(lines) { lines.addLast(line) }
        writeNext()
    }

    private fun writeNext() {
        if (writing) return
        val line = synchronized(lines) { lines.removeFirstOrNull() } ?: return
        writing = true
        input.value = line
        if (!gatt.writeCharacteristic(input)) writing = false
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        writing = false
        writeNext()
    }
}
