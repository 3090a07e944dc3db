package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.os.Handler

class Reader(private val handler: Handler, private val weight: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        weight.descriptors.firstOrNull()?.let { gatt.writeDescriptor(it) }
        handler.postDelayed({ gatt.readCharacteristic(weight) }, 500) //! operation-outside-queue hint
    }
}
