package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

abstract class Connection(protected val context: Context) : BluetoothGattCallback() {
    protected var gatt: BluetoothGatt? = null

    protected fun open(device: BluetoothDevice) {
        shutDown()
        gatt = device.connectGatt(context, false, this)
    }

    open fun shutDown() {
        runCatching { gatt?.close() }
        gatt = null
    }
}

class ScaleConnection(context: Context) : Connection(context) {
    fun connect(device: BluetoothDevice) = open(device)
}
