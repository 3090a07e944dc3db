package hive

import android.app.Service
import android.bluetooth.BluetoothDevice
import android.content.Intent
import android.os.Binder
import android.os.IBinder

class ScaleService : Service() {
    inner class Local : Binder() {
        fun weigh(device: BluetoothDevice) = connection.open(device)
    }

    private val connection = ScaleConnection(this) { state -> sendBroadcast(Intent(state.javaClass.simpleName)) }

    override fun onBind(intent: Intent): IBinder = Local()

    override fun onDestroy() {
        connection.release()
        super.onDestroy()
    }
}
