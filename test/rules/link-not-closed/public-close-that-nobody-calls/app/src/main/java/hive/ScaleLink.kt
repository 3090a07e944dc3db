package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

class ScaleLink(private val context: Context, private val callback: BluetoothGattCallback) {
    private var gatt: BluetoothGatt? = null

    fun open(device: BluetoothDevice) {
        if (gatt == null) gatt = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    fun refresh(): Boolean = gatt?.readRemoteRssi() == true

    fun close() {
        gatt?.close()
        gatt = null
    }
}
