package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.io.Closeable

class ScaleLink(context: Context, device: BluetoothDevice, callback: BluetoothGattCallback) : Closeable {
    private val gatt: BluetoothGatt = device.connectGatt(context, false, callback)

    fun rssi(): Boolean = gatt.readRemoteRssi()

    override fun close() = gatt.close()
}

fun measure(context: Context, device: BluetoothDevice, callback: BluetoothGattCallback): Boolean =
    ScaleLink(context, device, callback).use { it.rssi() }
