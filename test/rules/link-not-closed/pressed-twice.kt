package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

/** Nothing asks whether a link is open; it depends on the buttons whether one can be. */
class ScaleViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        gatt = device.connectGatt(context, false, callback) //! link-not-closed hint
    }

    override fun onCleared() {
        gatt?.close()
    }
}
