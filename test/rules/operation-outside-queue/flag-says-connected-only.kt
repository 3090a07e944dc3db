package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothProfile

class Careless(private val gatt: BluetoothGatt, private val weight: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    private var connected = false

    fun refresh() {
        if (!connected) return
        gatt.readCharacteristic(weight)
        if (connected) gatt.readRemoteRssi() //! operation-outside-queue warning
    }

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        connected = newState == BluetoothProfile.STATE_CONNECTED
    }
}
