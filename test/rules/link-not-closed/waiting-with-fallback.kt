package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.withTimeoutOrNull

class Visit(private val context: Context) {
    private var gone = CompletableDeferred<Unit>()

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (newState == BluetoothProfile.STATE_DISCONNECTED) gone.complete(Unit)
        }
    }

    /** The callback may never come; closed it is in any case. */
    suspend fun visit(device: BluetoothDevice, work: suspend (BluetoothGatt) -> Unit) {
        val gatt = device.connectGatt(context, false, callback) ?: return
        try {
            work(gatt)
        } finally {
            gatt.disconnect()
            withTimeoutOrNull(2_000) { gone.await() }
            gatt.close()
        }
    }
}
