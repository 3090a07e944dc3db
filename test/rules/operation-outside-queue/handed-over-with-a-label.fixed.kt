package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothStatusCodes
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.sync.Mutex
import kotlinx.coroutines.sync.withLock

class Firmware(private val gatt: BluetoothGatt, private val data: BluetoothGattCharacteristic) {
    private val turn = Mutex()
    private var answer: CompletableDeferred<Int>? = null

    suspend fun begin() = perform("begin") { gatt.writeCharacteristic(data, byteArrayOf(1), BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT) == 0 }

    suspend fun send(chunk: ByteArray) {
        perform("writeCharacteristic") { gatt.writeCharacteristic(data, chunk, BluetoothGattCharacteristic.WRITE_TYPE_NO_RESPONSE) == BluetoothStatusCodes.SUCCESS }
    }

    private suspend fun perform(label: String, start: () -> Boolean) {
        turn.withLock {
            val pending = CompletableDeferred<Int>()
            answer = pending
            check(start()) { label }
            check(pending.await() == 0) { label }
        }
    }
}
