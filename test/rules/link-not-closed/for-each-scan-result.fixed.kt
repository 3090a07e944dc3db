package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.le.ScanCallback
import android.bluetooth.le.ScanResult
import android.content.Context
import java.io.Closeable

/** An advertisement comes several times a second, and each one opens a client more. */
class Finder(private val context: Context, private val callback: BluetoothGattCallback) : ScanCallback(), Closeable {
    private var gatt: BluetoothGatt? = null

    override fun onScanResult(callbackType: Int, result: ScanResult) {
        if (gatt != null) {
            return
        }
        gatt = result.device.connectGatt(context, false, callback)
    }

    override fun close() {
        gatt?.close()
    }
}
