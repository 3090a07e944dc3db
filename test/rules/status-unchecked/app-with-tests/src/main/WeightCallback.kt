package hive.tested

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class WeightCallback(private val onWeight: (ByteArray) -> Unit) : BluetoothGattCallback() {
    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) { //! status-unchecked warning
        onWeight(value)
    }
}
