package hive.sample

import android.bluetooth.BluetoothDevice
import hive.ScaleLink

class Main(private val link: ScaleLink) {
    fun chosen(device: BluetoothDevice) = link.open(device)
}
