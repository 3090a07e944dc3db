package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

/** The sample does not use all that the library offers. */
class ScaleLink(private val context: Context, private val callback: BluetoothGattCallback) {
    private var gatt: BluetoothGatt? = null

    fun open(device: BluetoothDevice) {
        if (gatt == null) gatt = device.connectGatt(context, false, callback)
    }

    fun close() {
        gatt?.close()
        gatt = null
    }
}
