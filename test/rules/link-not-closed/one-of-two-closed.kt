package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

/** Left and right have a field each; only one of them is closed. */
class TwoScales(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var left: BluetoothGatt? = null
    private var right: BluetoothGatt? = null

    fun connect(a: BluetoothDevice, b: BluetoothDevice) {
        if (left == null) left = a.connectGatt(context, false, callback)
        if (right == null) right = b.connectGatt(context, false, callback) //! link-not-closed warning
    }

    override fun onCleared() {
        left?.close()
        right?.disconnect()
    }
}
