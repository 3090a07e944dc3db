package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.async
import kotlinx.coroutines.coroutineScope

class Snapshot(private val gatt: BluetoothGatt) {
    private var pending: CompletableDeferred<ByteArray>? = null

    suspend fun take(weight: BluetoothGattCharacteristic, battery: BluetoothGattCharacteristic) = coroutineScope {
        val first = async { read(weight) }
        val second = async { read(battery) } //! operation-outside-queue warning
        first.await() to second.await()
    }

    private suspend fun read(characteristic: BluetoothGattCharacteristic): ByteArray {
        val answer = CompletableDeferred<ByteArray>()
        pending = answer
        check(gatt.readCharacteristic(characteristic))
        return answer.await()
    }
}
