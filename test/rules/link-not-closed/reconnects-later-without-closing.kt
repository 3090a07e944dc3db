package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.os.Handler
import androidx.lifecycle.ViewModel

class ScaleViewModel(private val context: Context, private val device: BluetoothDevice, private val handler: Handler) : ViewModel() {
    private var gatt: BluetoothGatt? = null
    private var retries = 0

    private fun connect() {
        gatt = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    override fun onCleared() {
        gatt?.close()
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            when (newState) {
                BluetoothProfile.STATE_CONNECTED -> if (status == BluetoothGatt.GATT_SUCCESS) gatt.discoverServices()
                BluetoothProfile.STATE_DISCONNECTED -> if (retries++ < 3) handler.postDelayed({ connect() }, 500)
            }
        }
    }
}
