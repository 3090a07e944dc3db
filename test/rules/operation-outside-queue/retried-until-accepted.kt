package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class Stubborn(private val weight: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        var tries = 0
        while (!gatt.readCharacteristic(weight) && tries++ < 5) Thread.sleep(20)
    }

    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
        var accepted = false
        for (i in 1..3) {
            accepted = gatt.readCharacteristic(weight)
            if (accepted) break
        }
        if (!accepted) gatt.disconnect()
    }
}
