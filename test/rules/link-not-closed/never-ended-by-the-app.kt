package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context

/** It waits until the scale goes out of reach; a pending connection waits for ever. */
class ScaleLink(private val context: Context) : BluetoothGattCallback() {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        if (gatt != null) return
        gatt = device.connectGatt(context, true, this) //! link-not-closed warning
    }

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
            if (!gatt.discoverServices()) end(gatt)
        } else {
            end(gatt)
        }
    }

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) end(gatt)
    }

    private fun end(link: BluetoothGatt) {
        link.close()
        gatt = null
    }
}
