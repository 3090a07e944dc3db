package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

/** Ten scales and one property: nine links are forgotten. */
class ApiaryViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var gatt: BluetoothGatt? = null

    fun connectAll(scales: List<BluetoothDevice>) {
        scales.forEach { connect(it) }
    }

    private fun connect(scale: BluetoothDevice) {
        gatt = scale.connectGatt(context, true, callback) //! link-not-closed warning
    }

    override fun onCleared() {
        gatt?.close()
    }
}
