package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.lifecycle.ViewModel

class Session(private val gatt: BluetoothGatt) {
    fun refresh(): Boolean = gatt.readRemoteRssi()

    fun end() {
        gatt.close()
    }
}

class ScaleViewModel(private val context: Context, private val callback: BluetoothGattCallback) : ViewModel() {
    private var session: Session? = null

    fun connect(device: BluetoothDevice) {
        session = Session(device.connectGatt(context, false, callback)) //! link-not-closed warning
    }

    fun refresh(): Boolean = session?.refresh() == true

    override fun onCleared() {
        session = null
    }
}
