package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel
import kotlinx.coroutines.flow.MutableStateFlow

class ScaleViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private val link = MutableStateFlow<BluetoothGatt?>(null)

    fun connect(device: BluetoothDevice) {
        if (link.value != null) return
        link.value = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    override fun onCleared() {
        link.value?.disconnect()
        link.value = null
    }
}
