package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.flow.MutableSharedFlow
import kotlinx.coroutines.launch

class Commands(scope: CoroutineScope, private val gatt: BluetoothGatt, private val command: BluetoothGattCharacteristic) {
    private val requests = MutableSharedFlow<ByteArray>(extraBufferCapacity = 16)
    private var pending: CompletableDeferred<Int>? = null

    init {
        scope.launch {
            requests.collect { request -> write(request) }
        }
    }

    fun send(request: ByteArray) = requests.tryEmit(request)

    private suspend fun write(request: ByteArray): Int {
        val answer = CompletableDeferred<Int>()
        pending = answer
        command.value = request
        check(gatt.writeCharacteristic(command))
        return answer.await()
    }
}
