package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

/** The object around the link closes it, and the view model closes the object. */
class Session(private val gatt: BluetoothGatt, val name: String) {
    fun end() {
        gatt.disconnect()
        gatt.close()
    }
}

class ScaleViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private val sessions = mutableMapOf<String, Session>()

    fun connect(device: BluetoothDevice) {
        sessions.remove(device.address)?.end()
        val gatt = device.connectGatt(context, false, callback) ?: return
        sessions[device.address] = Session(gatt, device.address)
    }

    override fun onCleared() {
        sessions.values.forEach { session -> session.end() }
    }
}
