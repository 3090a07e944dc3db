package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.io.Closeable

/** Null means that nothing was opened, so nothing is forgotten. */
class ScaleLink(private val context: Context, private val callback: BluetoothGattCallback) : Closeable {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice): Boolean {
        if (gatt != null) return true
        gatt = device.connectGatt(context, false, callback)
        if (gatt == null) {
            gatt = device.connectGatt(context, true, callback, BluetoothDevice.TRANSPORT_LE)
        }
        return gatt != null
    }

    override fun close() {
        gatt?.close()
    }
}
