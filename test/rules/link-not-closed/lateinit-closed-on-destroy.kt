package hive

import android.app.Service
import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Intent
import android.os.IBinder

class SnapshotService : Service() {
    private lateinit var gatt: BluetoothGatt
    private val callback = object : BluetoothGattCallback() {}

    override fun onBind(intent: Intent): IBinder? = null

    override fun onStartCommand(intent: Intent, flags: Int, startId: Int): Int {
        if (::gatt.isInitialized) gatt.close()
        gatt = intent.getParcelableExtra<BluetoothDevice>("scale")!!.connectGatt(this, false, callback)
        return START_NOT_STICKY
    }

    override fun onDestroy() {
        if (::gatt.isInitialized) {
            gatt.disconnect()
            gatt.close()
        }
        super.onDestroy()
    }
}
