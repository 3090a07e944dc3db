package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.CompletableDeferred

class Snapshot(private val gatt: BluetoothGatt) {
    private var pending: CompletableDeferred<ByteArray>? = null

    suspend fun take(probes: List<BluetoothGattCharacteristic>): List<ByteArray> {
        val values = mutableListOf<ByteArray>()
        for (probe in probes) values += read(probe)
        val first = read(probes.first())
        return values + first
    }

    private suspend fun read(probe: BluetoothGattCharacteristic): ByteArray {
        val answer = CompletableDeferred<ByteArray>()
        pending = answer
        if (!gatt.readCharacteristic(probe)) answer.cancel() //! operation-outside-queue hint
        return answer.await()
    }
}
