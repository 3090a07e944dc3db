package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context

/** What a method looked up by a name that is put together does, nobody can say. */
class Probe(private val context: Context, private val callback: BluetoothGattCallback, private val verb: String) {
    private var link: BluetoothGatt? = null

    fun look(device: BluetoothDevice) {
        if (link == null) link = device.connectGatt(context, false, callback)
    }

    fun finish() {
        val method = BluetoothGatt::class.java.getMethod(verb)
        method.invoke(link)
    }
}
