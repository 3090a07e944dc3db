package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.MutableLiveData
import androidx.lifecycle.ViewModel
import java.util.concurrent.atomic.AtomicReference
import kotlinx.coroutines.flow.MutableStateFlow
import kotlinx.coroutines.flow.update

class ScaleViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private val inFlow = MutableStateFlow<BluetoothGatt?>(null)
    private val inFlowToo = MutableStateFlow<BluetoothGatt?>(null)
    private val inLiveData = MutableLiveData<BluetoothGatt?>()
    private val inReference = AtomicReference<BluetoothGatt?>()

    fun connect(device: BluetoothDevice) {
        release()
        inFlow.value = device.connectGatt(context, false, callback)
        inFlowToo.update { device.connectGatt(context, false, callback) }
        inLiveData.postValue(device.connectGatt(context, false, callback))
        inReference.set(device.connectGatt(context, false, callback))
    }

    private fun release() {
        inFlow.value?.close()
        inFlowToo.value?.close()
        inLiveData.value?.close()
        inReference.getAndSet(null)?.close()
    }

    override fun onCleared() {
        release()
    }
}
