package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class Either(private val weight: BluetoothGattCharacteristic?, private val battery: BluetoothGattCharacteristic?) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        weight?.let { gatt.readCharacteristic(it) }
            ?: battery?.let { gatt.readCharacteristic(it) }
            ?: gatt.readRemoteRssi()
    }
}
