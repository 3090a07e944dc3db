package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.CancellableContinuation
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.launch
import kotlinx.coroutines.suspendCancellableCoroutine

class Frames(private val scope: CoroutineScope, private val gatt: BluetoothGatt) {
    private var pending: CancellableContinuation<ByteArray>? = null

    fun refresh(probes: List<BluetoothGattCharacteristic>) {
        for (probe in probes) {
            scope.launch { show(read(probe)) } //! operation-outside-queue warning
        }
    }

    /** Waits for its own answer; two at a time take each other's. */
    private suspend fun read(probe: BluetoothGattCharacteristic): ByteArray = suspendCancellableCoroutine { continuation ->
        pending = continuation
        if (!gatt.readCharacteristic(probe)) continuation.cancel()
    }

    private fun show(value: ByteArray) = println(value.size)
}
