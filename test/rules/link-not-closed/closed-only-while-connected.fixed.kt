package hive

import android.app.Service
import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Intent
import android.os.IBinder

/** `isConnected` is false while the phone still waits for the scale, and after it went out of reach. */
class SnapshotService : Service() {
    private var gatt: BluetoothGatt? = null
    private var isConnected = false

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            isConnected = status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED
        }
    }

    override fun onBind(intent: Intent): IBinder? {
        gatt = intent.getParcelableExtra<BluetoothDevice>("scale")?.connectGatt(this, true, callback)
        return null
    }

    override fun onDestroy() {
        gatt?.close()
        gatt = null
        if (!isConnected) return
        gatt?.close()
        gatt = null
    }
}
