package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.io.Closeable

/** A round for each hive adds a link; none takes another's place. */
class Apiary(private val context: Context, private val callback: BluetoothGattCallback) : Closeable {
    private val links = mutableListOf<BluetoothGatt>()

    fun connect(scales: List<BluetoothDevice>) {
        for (scale in scales) links.add(scale.connectGatt(context, true, callback))
    }

    override fun close() {
        links.forEach { it.close() }
        links.clear()
    }
}
