package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.sync.Mutex
import kotlinx.coroutines.sync.withLock

class Commands(private val gatt: BluetoothGatt, private val command: BluetoothGattCharacteristic) {
    private val mutex = Mutex()

    suspend fun restart() {
        write(byteArrayOf(1))
        write(byteArrayOf(2)) //! operation-outside-queue warning
    }

    private suspend fun write(value: ByteArray) = mutex.withLock {
        command.value = value
        gatt.writeCharacteristic(command)
    }
}
