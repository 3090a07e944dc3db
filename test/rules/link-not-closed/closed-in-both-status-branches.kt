package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context

/** The same callback, with the failed attempt closed as well. */
class ScaleLink(private val context: Context) {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        if (gatt != null) return
        gatt = device.connectGatt(context, false, callback)
    }

    fun disconnect() {
        gatt?.disconnect()
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS) {
                if (newState == BluetoothProfile.STATE_CONNECTED) gatt.discoverServices() else release(gatt)
            } else {
                release(gatt)
            }
        }
    }

    private fun release(ended: BluetoothGatt) {
        ended.close()
        gatt = null
    }
}
