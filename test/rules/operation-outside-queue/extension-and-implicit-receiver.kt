package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

private fun BluetoothGatt.listenTo(characteristic: BluetoothGattCharacteristic): Boolean {
    if (!setCharacteristicNotification(characteristic, true)) return false
    val cccd = characteristic.descriptors.firstOrNull() ?: return false
    return writeDescriptor(cccd)
}

class Listening(private val weight: BluetoothGattCharacteristic, private val alarm: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        with(gatt) {
            listenTo(weight)
            listenTo(alarm) //! operation-outside-queue warning
        }
    }

    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
        gatt.apply { readCharacteristic(weight) }
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        if (!gatt.listenTo(alarm)) gatt.listenTo(weight)
    }
}
