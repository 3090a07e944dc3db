package hive

import android.bluetooth.BluetoothAdapter
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.io.Closeable

class Finder(private val context: Context, private val adapter: BluetoothAdapter, private val callback: BluetoothGattCallback) : Closeable {
    private var gatt: BluetoothGatt? = null

    private val found = BluetoothAdapter.LeScanCallback { device, _, _ ->
        gatt = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    fun look(): Boolean = adapter.startLeScan(found)

    override fun close() {
        adapter.stopLeScan(found)
        gatt?.close()
    }
}
