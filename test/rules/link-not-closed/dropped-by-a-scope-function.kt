package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGattCallback
import android.content.Context

class Probe(private val context: Context, private val callback: BluetoothGattCallback) {
    fun look(device: BluetoothDevice?) {
        device?.let {
            it.connectGatt(context, false, callback) //! link-not-closed warning
        }
    }
}
