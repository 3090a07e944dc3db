import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlin.coroutines.resumeWithException
import kotlinx.coroutines.CancellableContinuation
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.suspendCancellableCoroutine

/** Whoever waits, waits for ever. */
class Waiting(private val gatt: BluetoothGatt) {
    private var reading: CancellableContinuation<ByteArray>? = null
    private var discovered = CompletableDeferred<Unit>()

    suspend fun read(c: BluetoothGattCharacteristic): ByteArray = suspendCancellableCoroutine { continuation ->
        reading = continuation
        if (!gatt.readCharacteristic(c)) {
            continuation.resumeWithException(IllegalStateException("readCharacteristic was not accepted"))
        }
    }

    suspend fun discover() {
        discovered = CompletableDeferred()
        gatt.discoverServices()
        discovered.await()
    }
}
