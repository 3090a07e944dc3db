package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class Handshake(private val command: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
        command.value = byteArrayOf(6)
        gatt.writeCharacteristic(command) //! operation-outside-queue hint
    }
}
