package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

class ScaleViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        disconnect()
        gatt = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    fun disconnect() {
        gatt?.disconnect()
    }

    override fun onCleared() {
        gatt?.close()
    }
}
