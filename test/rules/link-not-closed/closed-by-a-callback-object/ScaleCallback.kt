package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile

/** Told through a function value and through an interface; both users close what they are given. */
class ScaleCallback(private val ended: (BluetoothGatt, Int) -> Unit) : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (newState == BluetoothProfile.STATE_DISCONNECTED) ended(gatt, status)
    }
}

interface LinkListener {
    fun onEnded(gatt: BluetoothGatt)
}

class ListenedCallback(private val listener: LinkListener) : BluetoothGattCallback() {
    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (newState == BluetoothProfile.STATE_DISCONNECTED) listener.onEnded(gatt)
    }
}
