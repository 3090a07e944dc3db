package hive

import android.app.Service
import android.bluetooth.BluetoothDevice
import android.content.Intent
import android.os.Binder
import android.os.IBinder

class Repository(private val connection: ScaleConnection) {
    fun connect(device: BluetoothDevice) = connection.connect(device)
    fun release() = connection.shutDown()
}

class ScaleService : Service() {
    inner class LocalBinder : Binder() {
        val service get() = this@ScaleService
    }

    private val binder = LocalBinder()
    private val repository by lazy { Repository(ScaleConnection(this)) }

    override fun onBind(intent: Intent): IBinder = binder

    fun connect(device: BluetoothDevice) = repository.connect(device)

    override fun onDestroy() {
        repository.release()
        super.onDestroy()
    }
}
