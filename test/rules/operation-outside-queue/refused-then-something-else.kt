package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothStatusCodes

class Fallback(private val weight: BluetoothGattCharacteristic, private val battery: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
        if (!gatt.readCharacteristic(weight)) gatt.readCharacteristic(battery)
    }

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        val started = gatt.requestMtu(185) || gatt.readCharacteristic(weight)
        if (!started) gatt.disconnect()
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        val accepted = gatt.readCharacteristic(weight)
        if (accepted) return
        gatt.readCharacteristic(battery)
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        when (gatt.writeCharacteristic(battery, byteArrayOf(1), BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT)) {
            BluetoothStatusCodes.SUCCESS -> Unit
            else -> gatt.readCharacteristic(weight)
        }
    }

    fun fallBackFromEither(gatt: BluetoothGatt, isLoud: Boolean) {
        val accepted = if (isLoud) gatt.writeCharacteristic(weight) else gatt.readCharacteristic(battery) //! operation-outside-queue hint
        if (accepted != true) gatt.readRemoteRssi()
    }
}
