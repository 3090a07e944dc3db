package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import androidx.lifecycle.ViewModel

/** When the scale goes out of reach the property is emptied, and its client stays registered. */
class ScaleViewModel(private val context: Context) : ViewModel() {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        if (gatt != null) return
        gatt = device.connectGatt(context, false, callback)
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(link: BluetoothGatt, status: Int, newState: Int) {
            when (newState) {
                BluetoothProfile.STATE_CONNECTED -> if (status == BluetoothGatt.GATT_SUCCESS) link.discoverServices()
                BluetoothProfile.STATE_DISCONNECTED -> {
                    link.close()
                    gatt = null
                }
            }
        }
    }

    override fun onCleared() {
        gatt?.disconnect()
        gatt?.close()
    }
}
