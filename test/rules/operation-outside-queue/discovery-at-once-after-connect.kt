package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

class Opener(private val context: Context, private val callback: BluetoothGattCallback) {
    private var gatt: BluetoothGatt? = null

    fun open(device: BluetoothDevice) {
        gatt = device.connectGatt(context, false, callback)
        gatt?.discoverServices() //! operation-outside-queue warning
    }
}
