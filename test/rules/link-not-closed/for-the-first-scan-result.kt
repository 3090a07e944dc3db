package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.le.BluetoothLeScanner
import android.bluetooth.le.ScanCallback
import android.bluetooth.le.ScanResult
import android.content.Context
import java.io.Closeable

class Finder(private val context: Context, private val scanner: BluetoothLeScanner, private val callback: BluetoothGattCallback) : ScanCallback(), Closeable {
    private var gatt: BluetoothGatt? = null

    override fun onScanResult(callbackType: Int, result: ScanResult) {
        scanner.stopScan(this)
        gatt = result.device.connectGatt(context, false, callback)
    }

    override fun close() {
        gatt?.close()
    }
}
