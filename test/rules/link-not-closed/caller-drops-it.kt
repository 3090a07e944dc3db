package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

private fun open(device: BluetoothDevice, context: Context, callback: BluetoothGattCallback): BluetoothGatt? {
    val link = device.connectGatt(context, false, callback) //! link-not-closed warning
    return link
}

class Probe(private val context: Context) : BluetoothGattCallback() {
    fun look(device: BluetoothDevice) {
        open(device, context, this)
    }
}
