package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothProfile
import android.content.Context

/** One scale. The service below owns it; whatever ends the link closes it. */
class ScaleConnection(private val context: Context, private val told: (ScaleState) -> Unit) {
    private var gatt: BluetoothGatt? = null

    fun open(device: BluetoothDevice) {
        release()
        gatt = device.connectGatt(context, false, callback)
    }

    fun release() {
        gatt?.close()
        gatt = null
    }

    private fun fail(reason: String) {
        release()
        told(ScaleState.Failed(reason))
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
                if (!gatt.discoverServices()) fail("busy")
            } else {
                fail("link ended with $status")
            }
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            val weight = gatt.getService(Gatt.HIVE)?.getCharacteristic(Gatt.WEIGHT)
            if (status != BluetoothGatt.GATT_SUCCESS || weight == null) return fail("no scale")
            if (!gatt.readCharacteristic(weight)) fail("busy")
        }

        override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS) told(ScaleState.Weighed(value)) else fail("not read: $status")
        }
    }
}

sealed interface ScaleState {
    class Weighed(val value: ByteArray) : ScaleState
    class Failed(val reason: String) : ScaleState
}
