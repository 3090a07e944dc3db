package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel
import java.lang.ref.WeakReference

class ProbeViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var link = WeakReference<BluetoothGatt>(null)

    fun look(device: BluetoothDevice) {
        if (link.get() != null) return
        link = WeakReference(device.connectGatt(context, false, callback)) //! link-not-closed warning
    }

    override fun onCleared() {
        link.get()?.close()
    }
}
