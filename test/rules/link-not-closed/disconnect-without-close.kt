package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

/** The radio link ends, the client stays. */
class ScaleLink(private val context: Context, private val callback: BluetoothGattCallback) {
    private lateinit var gatt: BluetoothGatt

    fun connect(device: BluetoothDevice) {
        gatt = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    fun stop() {
        if (::gatt.isInitialized) gatt.disconnect()
    }
}
