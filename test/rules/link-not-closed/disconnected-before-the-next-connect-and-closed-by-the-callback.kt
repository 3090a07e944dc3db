package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import androidx.lifecycle.ViewModel

/** The callback closes the object that it is given, whichever the property holds by then. */
class ScaleViewModel(private val context: Context) : ViewModel() {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        if (gatt != null) gatt?.disconnect()
        gatt = device.connectGatt(context, false, callback)
    }

    override fun onCleared() {
        gatt?.close()
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (newState == BluetoothProfile.STATE_DISCONNECTED) gatt.close()
        }
    }
}
