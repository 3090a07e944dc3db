package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import androidx.lifecycle.ViewModel

class ScaleViewModel(private val gatt: BluetoothGatt, private val command: BluetoothGattCharacteristic) : ViewModel() {
    override fun onCleared() {
        command.value = byteArrayOf(0)
        gatt.writeCharacteristic(command)
        gatt.disconnect()
        gatt.close()
    }
}
