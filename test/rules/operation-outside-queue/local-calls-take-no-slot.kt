package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class SetUp(private val probes: List<BluetoothGattCharacteristic>) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        gatt.requestConnectionPriority(BluetoothGatt.CONNECTION_PRIORITY_HIGH)
        for (probe in probes) gatt.setCharacteristicNotification(probe, true)
        gatt.readCharacteristic(probes.first())
        gatt.requestConnectionPriority(BluetoothGatt.CONNECTION_PRIORITY_BALANCED)
        gatt.setCharacteristicNotification(probes.last(), true)
    }
}
