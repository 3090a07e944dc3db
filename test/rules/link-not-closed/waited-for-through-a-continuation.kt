package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import kotlin.coroutines.resume
import kotlinx.coroutines.suspendCancellableCoroutine

/** The link comes back to the caller by way of the callback. */
private suspend fun BluetoothDevice.connected(context: Context): BluetoothGatt? = suspendCancellableCoroutine { continuation ->
    val pending = connectGatt(context, false, object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
                continuation.resume(gatt)
            } else {
                gatt.close()
                if (continuation.isActive) continuation.resume(null)
            }
        }
    })
    continuation.invokeOnCancellation { pending.close() }
}

suspend fun rssi(context: Context, device: BluetoothDevice): Boolean {
    val gatt = device.connected(context) ?: return false
    try {
        return gatt.readRemoteRssi()
    } finally {
        gatt.close()
    }
}
