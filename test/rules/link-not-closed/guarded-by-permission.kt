package hive

import android.Manifest
import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import android.content.pm.PackageManager
import androidx.lifecycle.ViewModel

/** Without the permission there is no link to close. */
class ScaleViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var gatt: BluetoothGatt? = null

    private fun allowed(): Boolean = context.checkSelfPermission(Manifest.permission.BLUETOOTH_CONNECT) == PackageManager.PERMISSION_GRANTED

    fun connect(device: BluetoothDevice) {
        if (!allowed() || gatt != null) return
        gatt = device.connectGatt(context, false, callback)
    }

    override fun onCleared() {
        if (context.checkSelfPermission(Manifest.permission.BLUETOOTH_CONNECT) != PackageManager.PERMISSION_GRANTED) return
        gatt?.close()
    }
}
