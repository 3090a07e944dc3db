package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.content.Context

class Reconnecting(private val context: Context, private val weight: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) {
            gatt.readCharacteristic(weight)
            return
        }
        gatt.disconnect()
        gatt.close()
        gatt.device.connectGatt(context, false, this)
    }
}
