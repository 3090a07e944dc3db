package hive

import android.bluetooth.BluetoothDevice
import androidx.lifecycle.ViewModel

class ScaleViewModel(private val link: ScaleLink) : ViewModel() {
    fun chosen(device: BluetoothDevice) {
        link.open(device)
    }

    fun refresh(): Boolean = link.refresh()
}
