package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

object Apiary {
    private val links = HashMap<String, BluetoothGatt>()

    fun connect(context: Context, scale: BluetoothDevice, callback: BluetoothGattCallback) {
        if (scale.address in links) return
        links[scale.address] = scale.connectGatt(context, true, callback) //! link-not-closed warning
    }

    fun releaseAll() {
        links.values.forEach { it.disconnect() }
        links.clear()
    }
}
