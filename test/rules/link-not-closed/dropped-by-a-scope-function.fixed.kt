package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

class Probe(private val context: Context, private val callback: BluetoothGattCallback) {
    fun look(device: BluetoothDevice?) {
        device?.let {
            gatt?.close()
            gatt = it.connectGatt(context, false, callback)
        }
    }

    private var gatt: BluetoothGatt? = null
}
