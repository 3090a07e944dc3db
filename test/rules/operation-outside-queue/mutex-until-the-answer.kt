package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import kotlinx.coroutines.CancellableContinuation
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.launch
import kotlinx.coroutines.suspendCancellableCoroutine
import kotlinx.coroutines.sync.Mutex
import kotlinx.coroutines.sync.withLock
import kotlinx.coroutines.withTimeout

class ScaleLink(private val gatt: BluetoothGatt) : BluetoothGattCallback() {
    private val turn = Mutex()
    private var reading: CancellableContinuation<ByteArray>? = null
    private var written: CompletableDeferred<Int>? = null

    suspend fun read(characteristic: BluetoothGattCharacteristic): ByteArray = turn.withLock {
        suspendCancellableCoroutine { continuation ->
            reading = continuation
            if (!gatt.readCharacteristic(characteristic)) continuation.cancel()
        }
    }

    suspend fun write(characteristic: BluetoothGattCharacteristic, value: ByteArray): Int = perform {
        characteristic.value = value
        gatt.writeCharacteristic(characteristic)
    }

    suspend fun describe(descriptor: BluetoothGattDescriptor): Int = perform { gatt.writeDescriptor(descriptor) }

    private suspend fun perform(start: () -> Boolean): Int = turn.withLock {
        val answer = CompletableDeferred<Int>()
        written = answer
        if (!start()) throw IllegalStateException("refused")
        withTimeout(10_000) { answer.await() }
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        written?.complete(status)
    }
}

class Panel(private val scope: CoroutineScope, private val link: ScaleLink) {
    fun refresh(probes: List<BluetoothGattCharacteristic>) {
        for (probe in probes) scope.launch { link.read(probe) }
        scope.launch { link.write(probes.first(), byteArrayOf(1)) }
    }
}
