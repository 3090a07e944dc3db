package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import com.example.radio.LinkPool

class Probe(private val context: Context, private val pool: LinkPool, private val callback: BluetoothGattCallback) {
    fun look(device: BluetoothDevice) {
        pool.adopt(device.connectGatt(context, false, callback))
    }
}
