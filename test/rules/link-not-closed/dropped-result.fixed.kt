package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context

/** The callback gets the link only once it is up; until then nobody has it. */
class ScaleLink(private val context: Context) {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        gatt?.close()
        gatt = device.connectGatt(context, true, callback)
    }

    fun disconnect() {
        gatt?.disconnect()
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
                this@ScaleLink.gatt = gatt
                gatt.discoverServices()
            } else {
                gatt.close()
                this@ScaleLink.gatt = null
            }
        }
    }
}
