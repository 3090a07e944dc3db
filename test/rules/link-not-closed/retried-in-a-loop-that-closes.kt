package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.io.Closeable
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.withTimeoutOrNull

class PatientLink(private val context: Context, private val callback: BluetoothGattCallback) : Closeable {
    private var gatt: BluetoothGatt? = null
    private var ready = CompletableDeferred<Unit>()

    suspend fun connect(device: BluetoothDevice): Boolean {
        repeat(3) {
            ready = CompletableDeferred()
            gatt = device.connectGatt(context, false, callback)
            if (withTimeoutOrNull(10_000) { ready.await() } != null) return true
            close()
        }
        return false
    }

    override fun close() {
        gatt?.close()
    }
}
