import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.CancellableContinuation
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.suspendCancellableCoroutine

/** Whoever waits, waits for ever. */
class Waiting(private val gatt: BluetoothGatt) {
    private var reading: CancellableContinuation<ByteArray>? = null
    private var discovered = CompletableDeferred<Unit>()

    suspend fun read(c: BluetoothGattCharacteristic): ByteArray = suspendCancellableCoroutine { continuation ->
        reading = continuation
        gatt.readCharacteristic(c) //! start-result-unchecked warning
    }

    suspend fun discover() {
        discovered = CompletableDeferred()
        gatt.discoverServices() //! start-result-unchecked warning
        discovered.await()
    }
}
