package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

class Probe(private val context: Context, private val callback: BluetoothGattCallback) {
    private var link: BluetoothGatt? = null

    fun look(device: BluetoothDevice) {
        if (link != null) return
        link = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    fun forgetServices() {
        val refresh = BluetoothGatt::class.java.getMethod("refresh")
        refresh.invoke(link)
    }
}
