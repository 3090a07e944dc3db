package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

class Tracker(val address: String) {
    var gatt: BluetoothGatt? = null
    var attempts = 0
}

/** The map holds trackers, the tracker the link. */
class Links private constructor() {
    companion object {
        private val trackers = LinkedHashMap<String, Tracker>()

        fun open(context: Context, device: BluetoothDevice, callback: BluetoothGattCallback) {
            val tracker = trackers.getOrPut(device.address) { Tracker(device.address) }
            tracker.attempts++
            tracker.gatt?.close()
            tracker.gatt = device.connectGatt(context, false, callback)
        }

        fun forget(address: String) {
            val tracker = trackers.remove(address) ?: return
            tracker.gatt?.disconnect()
            tracker.gatt?.close()
        }
    }
}
