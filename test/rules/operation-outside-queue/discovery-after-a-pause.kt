package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.os.Handler

class Opening(private val handler: Handler) : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS || newState != BluetoothProfile.STATE_CONNECTED) return
        handler.postDelayed({ gatt.discoverServices() }, 600)
    }

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        val task = Runnable { gatt.requestMtu(185) }
        handler.post(task)
    }
}
