@file:Suppress("MissingPermission", "DEPRECATION")

package app.hivescale.survey

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.util.Log
import app.hivescale.gatt.HiveGatt
import app.hivescale.gatt.cornerLoad

/**
 * Shows the raw load of the four corners while the installer puts the reference weight on each. Written for the people
 * in the workshop; the beekeeper never sees this screen.
 */
class CalibrationSession(private val context: Context, private var onLoad: ((corner: Int, newton: Double) -> Unit)?) {

    private var gatt: BluetoothGatt? = null
    private var liveCells = 0

    fun begin(device: BluetoothDevice) {
        gatt = device.connectGatt(context, false, callback)
    }

    fun end() {
        onLoad = null
        gatt = null
        liveCells = 0
    }

    val complete: Boolean
        get() = liveCells == HiveGatt.LOAD_CELLS.size

    private val callback = object : BluetoothGattCallback() {

        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (newState == BluetoothProfile.STATE_CONNECTED) {
                gatt.discoverServices()
            } else if (newState == BluetoothProfile.STATE_DISCONNECTED) {
                liveCells = 0
            }
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            if (status != BluetoothGatt.GATT_SUCCESS) return
            val hive = gatt.getService(HiveGatt.HIVE_SERVICE) ?: return
            for (uuid in HiveGatt.LOAD_CELLS) {
                val cell = hive.getCharacteristic(uuid) ?: continue
                if (!gatt.setCharacteristicNotification(cell, true)) continue
                val cccd = cell.getDescriptor(HiveGatt.CCCD) ?: continue
                cccd.value = BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE
                if (gatt.writeDescriptor(cccd)) liveCells++
            }
            Log.i(TAG, "$liveCells of ${HiveGatt.LOAD_CELLS.size} cells")
        }

        @Deprecated("Until Android 12")
        override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
            show(characteristic, characteristic.value ?: return)
        }

        override fun onCharacteristicChanged(
            gatt: BluetoothGatt,
            characteristic: BluetoothGattCharacteristic,
            value: ByteArray,
        ) {
            show(characteristic, value)
        }
    }

    private fun show(characteristic: BluetoothGattCharacteristic, value: ByteArray) {
        val corner = HiveGatt.LOAD_CELLS.indexOf(characteristic.uuid)
        val newton = value.cornerLoad()
        if (corner >= 0 && newton != null) onLoad?.invoke(corner, newton)
    }

    private companion object {
        const val TAG = "CalibrationSession"
    }
}
