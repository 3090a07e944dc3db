package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.io.Closeable

class ScaleLink(private val context: Context, private val callback: BluetoothGattCallback) : Closeable {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        if (gatt == null) gatt = device.connectGatt(context, false, callback)
    }

    override fun close() {
        val last = gatt
        gatt = null
        try {
            last?.disconnect()
        } finally {
            last?.close()
        }
    }
}
