package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt

class Notes {
    /** The old way was `gatt = device.connectGatt(context, false, callback)`. */
    fun describe(device: BluetoothDevice, gatt: BluetoothGatt?): String {
        // device.connectGatt(context, false, callback)
        return "${device.address} ${gatt != null}"
    }
}
