package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import androidx.lifecycle.ViewModel

/** Each loss of the link leaves a client behind; onCleared reaches the last one. */
class ScaleViewModel(private val context: Context, private val device: BluetoothDevice) : ViewModel() {
    private var gatt: BluetoothGatt? = null

    private fun connect() {
        gatt?.close()
        gatt = device.connectGatt(context, false, callback)
    }

    override fun onCleared() {
        gatt?.close()
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
                gatt.discoverServices()
            } else {
                connect()
            }
        }
    }
}
