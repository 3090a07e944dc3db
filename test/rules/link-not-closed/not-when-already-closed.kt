package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import java.io.Closeable

/** The flag says that there is nothing left to do; it does not say that the link is up. */
class ScaleLink(context: Context, device: BluetoothDevice) : BluetoothGattCallback(), Closeable {
    private var closed = false
    private var ready = false
    private val gatt: BluetoothGatt? = device.connectGatt(context, false, this)

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (newState == BluetoothProfile.STATE_DISCONNECTED) close()
        ready = newState == BluetoothProfile.STATE_CONNECTED
    }

    override fun close() {
        if (closed) return
        closed = true
        if (ready) gatt?.disconnect()
        gatt?.close()
    }
}
