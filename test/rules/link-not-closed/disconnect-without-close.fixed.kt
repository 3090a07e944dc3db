package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

/** The radio link ends, the client stays. */
class ScaleLink(private val context: Context, private val callback: BluetoothGattCallback) {
    private lateinit var gatt: BluetoothGatt

    fun connect(device: BluetoothDevice) {
        if (::gatt.isInitialized) {
            gatt.close()
        }
        gatt = device.connectGatt(context, false, callback)
    }

    fun stop() {
        if (::gatt.isInitialized) {
            gatt.disconnect()
            gatt.close()
        }
    }
}
