package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.os.Handler
import android.os.Looper
import android.os.Message

private const val CLOSE = 1

/** What the message carries is closed when its turn comes. */
class ScaleLink(private val context: Context) : BluetoothGattCallback() {
    private var gatt: BluetoothGatt? = null

    private val handler = object : Handler(Looper.getMainLooper()) {
        override fun handleMessage(message: Message) {
            when (message.what) {
                CLOSE -> (message.obj as BluetoothGatt).close()
            }
        }
    }

    fun connect(device: BluetoothDevice) {
        if (gatt == null) gatt = device.connectGatt(context, false, this)
    }

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (newState == BluetoothProfile.STATE_DISCONNECTED) handler.obtainMessage(CLOSE, gatt).sendToTarget()
    }
}
