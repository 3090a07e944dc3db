package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

class ApiaryViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private val links = mutableMapOf<String, BluetoothGatt>()

    fun connectAll(scales: List<BluetoothDevice>) {
        scales.forEach { connect(it) }
    }

    private fun connect(scale: BluetoothDevice) {
        links[scale.address] = scale.connectGatt(context, true, callback)
    }

    override fun onCleared() {
        links.values.forEach(BluetoothGatt::close)
    }
}
