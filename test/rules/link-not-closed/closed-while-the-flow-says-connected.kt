package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import androidx.lifecycle.ViewModel
import kotlinx.coroutines.flow.MutableStateFlow

enum class LinkState { Idle, Connecting, Connected }

class ScaleViewModel(private val context: Context) : ViewModel() {
    private val state = MutableStateFlow(LinkState.Idle)
    private var gatt: BluetoothGatt? = null

    fun connect(device: BluetoothDevice) {
        if (state.value != LinkState.Idle) return
        state.value = LinkState.Connecting
        gatt = device.connectGatt(context, false, callback) //! link-not-closed warning
    }

    override fun onCleared() {
        if (state.value == LinkState.Connected) {
            gatt?.close()
        }
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
                state.value = LinkState.Connected
            } else {
                state.value = LinkState.Idle
            }
        }
    }
}
