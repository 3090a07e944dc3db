package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

enum class Mode { NOTIFY, INDICATE, LOCAL }

class Listening(private val weight: BluetoothGattCharacteristic, private val alarm: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        listen(gatt, weight, Mode.NOTIFY)
        listen(gatt, alarm, Mode.LOCAL)
    }

    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
        listen(gatt, alarm, Mode.LOCAL)
        listen(gatt, weight, Mode.INDICATE)
        listen(gatt, alarm, Mode.NOTIFY) //! operation-outside-queue warning
    }

    private fun listen(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, mode: Mode) {
        gatt.setCharacteristicNotification(characteristic, true)
        val cccd = characteristic.descriptors.firstOrNull() ?: return
        when (mode) {
            Mode.NOTIFY -> gatt.writeDescriptor(cccd, BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE)
            Mode.INDICATE -> gatt.writeDescriptor(cccd, BluetoothGattDescriptor.ENABLE_INDICATION_VALUE)
            Mode.LOCAL -> Unit
        }
    }
}
