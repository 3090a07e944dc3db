package hive

import android.bluetooth.BluetoothGattServer
import android.bluetooth.BluetoothGattServerCallback
import android.bluetooth.BluetoothManager
import android.content.Context

/** Offers the phone's clock to the scales. Switched off, it forgets the server without closing it. */
class BeaconServer(private val context: Context, private val manager: BluetoothManager) {
    private var server: BluetoothGattServer? = null

    val isOn: Boolean get() = server != null

    fun switchOn() {
        if (isOn) return
        server = manager.openGattServer(context, object : BluetoothGattServerCallback() {}) //! link-not-closed warning
    }

    fun switchOff() {
        server = null
    }
}
