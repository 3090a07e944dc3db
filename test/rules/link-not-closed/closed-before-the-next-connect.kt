package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context

/** One at most is ever open: the next one takes the place of a closed one. */
object ScaleLink {
    private var gatt: BluetoothGatt? = null

    fun connect(context: Context, device: BluetoothDevice) {
        gatt?.close()
        gatt = device.connectGatt(context, false, callback)
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (newState == BluetoothProfile.STATE_CONNECTED) gatt.discoverServices()
        }
    }
}
