import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.channels.Channel
import kotlinx.coroutines.flow.MutableStateFlow
import kotlinx.coroutines.suspendCancellableCoroutine
import kotlin.coroutines.resume

interface Accepted {
    fun onAccepted(accepted: Boolean)
}

data class Outcome(val what: String, val accepted: Boolean)

class HandedOn(private val gatt: BluetoothGatt, private val listener: Accepted) {
    private val outcomes = Channel<Outcome>(Channel.UNLIMITED)
    val accepted = MutableStateFlow(false)

    fun told(c: BluetoothGattCharacteristic, onResult: (Boolean) -> Unit) {
        listener.onAccepted(gatt.readCharacteristic(c))
        onResult(gatt.readCharacteristic(c))
        outcomes.trySend(Outcome("read", gatt.readCharacteristic(c)))
        accepted.value = gatt.readCharacteristic(c)
    }

    fun completed(c: BluetoothGattCharacteristic, answer: CompletableDeferred<Boolean>) {
        answer.complete(gatt.readCharacteristic(c))
    }

    suspend fun resumed(c: BluetoothGattCharacteristic): Boolean = suspendCancellableCoroutine { continuation ->
        if (!gatt.readCharacteristic(c)) continuation.resume(false)
    }
}
