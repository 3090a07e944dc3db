package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import kotlinx.coroutines.channels.awaitClose
import kotlinx.coroutines.flow.Flow
import kotlinx.coroutines.flow.callbackFlow

class Weigher(private val context: Context) {
    fun states(device: BluetoothDevice): Flow<Int> = callbackFlow {
        val gatt = device.connectGatt(context, true, object : BluetoothGattCallback() { //! link-not-closed warning
            override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
                trySend(newState)
            }
        })
        awaitClose { gatt.disconnect() }
    }
}
