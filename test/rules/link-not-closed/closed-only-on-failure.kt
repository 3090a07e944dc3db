package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context

/** When the user disconnects, the status is success, and nobody closes. */
class ScaleLink(private val context: Context) : BluetoothGattCallback() {
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        if (gatt != null) return
        gatt = device.connectGatt(context, false, this) //! link-not-closed warning
    }

    fun disconnect() {
        gatt?.disconnect()
    }

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) {
            gatt.close()
            return
        }
        if (newState == BluetoothProfile.STATE_CONNECTED) gatt.discoverServices()
    }
}
