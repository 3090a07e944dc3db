package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.content.Context
import android.util.Log

class Scales(private val context: Context) : LinkListener {
    private var first: BluetoothGatt? = null
    private var second: BluetoothGatt? = null

    private val callback = ScaleCallback { gatt, status ->
        Log.i("Scales", "ended with $status")
        gatt.close()
    }

    fun connect(a: BluetoothDevice, b: BluetoothDevice) {
        if (first != null || second != null) return
        first = a.connectGatt(context, false, callback)
        second = b.connectGatt(context, false, ListenedCallback(this))
    }

    fun leave() {
        first?.disconnect()
        second?.disconnect()
    }

    override fun onEnded(gatt: BluetoothGatt) {
        gatt.close()
    }
}
