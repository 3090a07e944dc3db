package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

/** After `disconnect()` the property is empty, and `onCleared` finds nothing to close. */
class ScaleViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        if (gatt != null) return
        gatt = device.connectGatt(context, false, callback)
    }

    fun disconnect() {
        gatt?.disconnect()
        gatt?.close()
        gatt = null
    }

    override fun onCleared() {
        gatt?.close()
    }
}
