package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import android.util.Log

class Probe(private val context: Context) {
    fun look(device: BluetoothDevice) {
        bluetoothGatt?.close()
        val link = device.connectGatt(context, false, callback)
        bluetoothGatt = link
        Log.d("Probe", "asked for $link")
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (newState == 0) gatt.close()
        }
    }

    private var bluetoothGatt: BluetoothGatt? = null
}
