package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

class ScaleLink(private val context: Context, private val device: BluetoothDevice, private val callback: BluetoothGattCallback) {
    private var gatt: BluetoothGatt? = null

    fun open() {
        if (gatt == null) gatt = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    private fun tidyUp() {
        gatt?.close()
        gatt = null
    }
}
