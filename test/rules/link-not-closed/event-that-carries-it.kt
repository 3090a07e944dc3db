package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.channels.Channel
import kotlinx.coroutines.launch

sealed interface LinkEvent {
    data class Up(val gatt: BluetoothGatt) : LinkEvent
    data class Down(val gatt: BluetoothGatt, val status: Int) : LinkEvent
}

class EventLink(private val context: Context, scope: CoroutineScope) {
    private val events = Channel<LinkEvent>(Channel.UNLIMITED)
    private var gatt: BluetoothGatt? = null

    init {
        scope.launch {
            for (event in events) {
                when (event) {
                    is LinkEvent.Up -> event.gatt.discoverServices()
                    is LinkEvent.Down -> event.gatt.close()
                }
            }
        }
    }

    fun connect(device: BluetoothDevice) {
        if (gatt != null) return
        gatt = device.connectGatt(context, false, object : BluetoothGattCallback() {
            override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
                events.trySend(if (newState == BluetoothProfile.STATE_CONNECTED) LinkEvent.Up(gatt) else LinkEvent.Down(gatt, status))
            }
        })
    }
}
