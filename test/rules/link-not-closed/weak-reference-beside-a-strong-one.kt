package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel
import java.lang.ref.WeakReference

class ProbeViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var link: BluetoothGatt? = null
    private var shown = WeakReference<BluetoothGatt>(null)

    fun look(device: BluetoothDevice) {
        link?.close()
        val fresh = device.connectGatt(context, false, callback)
        link = fresh
        shown = WeakReference(fresh)
    }

    override fun onCleared() {
        link?.close()
    }
}
