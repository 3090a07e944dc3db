package hive

import android.bluetooth.BluetoothGattServer
import android.bluetooth.BluetoothGattServerCallback
import android.bluetooth.BluetoothManager
import android.content.Context

object HiveBeacon {
    private var server: BluetoothGattServer? = null

    fun start(context: Context, manager: BluetoothManager) {
        if (server != null) return
        server = manager.openGattServer(context, object : BluetoothGattServerCallback() {})
    }

    fun stop() {
        server?.clearServices()
        server?.close()
        server = null
    }
}
