package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.io.Closeable

class Probe(private val context: Context, private val callback: BluetoothGattCallback) : Closeable {
    private var first: BluetoothGatt? = null
    private var second: BluetoothGatt? = null
    private var third: BluetoothGatt? = null

    fun look(a: BluetoothDevice, b: BluetoothDevice, c: BluetoothDevice?) {
        close()
        a.connectGatt(context, false, callback).also { first = it }
        b.connectGatt(context, false, callback)?.apply {
            second = this
            requestConnectionPriority(BluetoothGatt.CONNECTION_PRIORITY_HIGH)
        }
        third = c?.run { connectGatt(context, false, callback) }
    }

    override fun close() {
        first?.run {
            disconnect()
            close()
        }
        second?.let(BluetoothGatt::close)
        with(third ?: return) { close() }
    }
}
