package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

private fun open(device: BluetoothDevice, context: Context, callback: BluetoothGattCallback): BluetoothGatt? =
    device.connectGatt(context, false, callback)

class ProbeViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var link: BluetoothGatt? = null

    fun look(device: BluetoothDevice) {
        link?.close()
        link = open(device, context, callback)
    }

    override fun onCleared() {
        link?.close()
    }
}
