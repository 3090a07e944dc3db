package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

typealias Link = BluetoothGatt

private fun Link.shutDown() {
    disconnect()
    close()
}

private inline fun Link.quietly(block: Link.() -> Unit) = try { block() } catch (e: SecurityException) { }

class TwoScales(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var left: Link? = null
    private var right: Link? = null

    fun connect(a: BluetoothDevice, b: BluetoothDevice) {
        if (left != null || right != null) return
        left = a.connectGatt(context, false, callback)
        right = b.connectGatt(context, false, callback)
    }

    override fun onCleared() {
        left?.shutDown()
        right?.quietly { close() }
    }
}
