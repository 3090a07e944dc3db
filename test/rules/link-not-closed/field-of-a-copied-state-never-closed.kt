package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import androidx.compose.runtime.Composable
import androidx.compose.runtime.DisposableEffect
import androidx.compose.runtime.getValue
import androidx.compose.runtime.mutableStateOf
import androidx.compose.runtime.remember
import androidx.compose.runtime.setValue

data class LinkState(val gatt: BluetoothGatt?, val status: Int)

@Composable
fun ScaleScreen(context: Context, device: BluetoothDevice, callback: BluetoothGattCallback) {
    var state by remember { mutableStateOf(LinkState(null, 0)) }

    DisposableEffect(device) {
        state = state.copy(gatt = device.connectGatt(context, false, callback)) //! link-not-closed warning
        onDispose {
            state.gatt?.disconnect()
        }
    }
}
