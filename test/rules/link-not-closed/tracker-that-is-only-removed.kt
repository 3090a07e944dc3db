package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

class Tracker(val address: String) {
    var gatt: BluetoothGatt? = null
    var attempts = 0
}

object Links {
    private val trackers = LinkedHashMap<String, Tracker>()

    fun open(context: Context, device: BluetoothDevice, callback: BluetoothGattCallback) {
        val tracker = trackers.getOrPut(device.address) { Tracker(device.address) }
        if (tracker.attempts++ > 0) return
        tracker.gatt = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    fun forget(address: String) {
        trackers.remove(address)?.gatt?.disconnect()
    }
}
