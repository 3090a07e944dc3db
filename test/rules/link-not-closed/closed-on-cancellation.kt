package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import kotlin.coroutines.resume
import kotlinx.coroutines.channels.awaitClose
import kotlinx.coroutines.flow.Flow
import kotlinx.coroutines.flow.callbackFlow
import kotlinx.coroutines.suspendCancellableCoroutine

class Weigher(private val context: Context) {
    suspend fun isThere(device: BluetoothDevice): Boolean = suspendCancellableCoroutine { continuation ->
        val gatt = device.connectGatt(context, false, object : BluetoothGattCallback() {
            override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
                gatt.close()
                continuation.resume(newState == BluetoothProfile.STATE_CONNECTED)
            }
        })
        continuation.invokeOnCancellation { gatt?.close() }
    }

    fun states(device: BluetoothDevice): Flow<Int> = callbackFlow {
        val gatt = device.connectGatt(context, true, object : BluetoothGattCallback() {
            override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
                trySend(newState)
            }
        })
        awaitClose { gatt.close() }
    }
}
