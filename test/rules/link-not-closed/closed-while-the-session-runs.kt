package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

/** The flag is set when the attempt begins, so it holds as long as there is something to close. */
class ScaleViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var running = false
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        if (running) return
        running = true
        gatt = device.connectGatt(context, false, callback)
    }

    override fun onCleared() {
        if (running) {
            running = false
            gatt?.close()
        }
    }
}
