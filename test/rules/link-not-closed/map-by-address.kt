package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.util.concurrent.ConcurrentHashMap

object Apiary {
    private val links = ConcurrentHashMap<String, BluetoothGatt>()

    fun connect(context: Context, scale: BluetoothDevice, callback: BluetoothGattCallback) {
        if (links.containsKey(scale.address)) return
        links[scale.address] = scale.connectGatt(context, true, callback)
    }

    fun release(address: String) {
        links.remove(address)?.close()
    }

    fun releaseAll() {
        for ((_, link) in links) link.close()
        links.clear()
    }
}
