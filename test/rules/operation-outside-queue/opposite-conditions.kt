package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class Either(private val weight: BluetoothGattCharacteristic, private val battery: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
        if (mtu >= 100) gatt.readCharacteristic(weight)
        if (mtu < 100) gatt.readCharacteristic(battery)
    }

    fun refresh(gatt: BluetoothGatt, full: Boolean) {
        if (full) log("everything")
        if (full) {
            gatt.readCharacteristic(weight) //! operation-outside-queue hint
        }
        log("and now")
        if (!full) gatt.readCharacteristic(battery)
    }

    private fun log(text: String) = println(text)
}
