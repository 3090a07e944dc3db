package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

/** Nothing in a library calls its own class: whoever uses it may. */
class ScaleLink(private val context: Context, private val device: BluetoothDevice, private val callback: BluetoothGattCallback) {
    private var gatt: BluetoothGatt? = null

    fun open() {
        if (gatt == null) gatt = device.connectGatt(context, false, callback)
    }

    fun close() {
        gatt?.close()
        gatt = null
    }
}
