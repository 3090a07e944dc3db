package app.hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothProfile
import android.content.Context
import java.util.UUID

val HIVE_SERVICE: UUID = UUID.fromString("8f2d6c1e-4b5a-4c39-9e77-2a61d0b3f5a4")
val WEIGHT: UUID = UUID.fromString("8f2d6c1f-4b5a-4c39-9e77-2a61d0b3f5a4")

/** Reads the weight once and lets go of the scale. */
class HiveLink(private val context: Context, private val onWeight: (ByteArray) -> Unit) {
    private var gatt: BluetoothGatt? = null

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
                if (!gatt.discoverServices()) close()
            } else {
                close()
            }
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            val weight = gatt.getService(HIVE_SERVICE)?.getCharacteristic(WEIGHT)
            if (status != BluetoothGatt.GATT_SUCCESS || weight == null) {
                close()
                return
            }
            gatt.readCharacteristic(weight)
        }

        override fun onCharacteristicRead(gatt: BluetoothGatt, weight: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS) onWeight(value)
            close()
        }
    }

    fun open(device: BluetoothDevice) {
        close()
        gatt = device.connectGatt(context, false, callback)
    }

    fun close() {
        gatt?.close()
        gatt = null
    }
}
