package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothProfile
import android.content.Context

class QuickWeighing(private val context: Context, private val done: (ByteArray) -> Unit) : BluetoothGattCallback() {
    private var gatt: BluetoothGatt? = null

    fun weigh(device: BluetoothDevice) {
        if (gatt == null) gatt = device.connectGatt(context, false, this)
    }

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        when (newState) {
            BluetoothProfile.STATE_CONNECTED -> if (status == BluetoothGatt.GATT_SUCCESS) gatt.discoverServices() else gatt.close()
            BluetoothProfile.STATE_DISCONNECTED -> gatt.close()
        }
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
        gatt.disconnect()
        gatt.close()
        if (status == BluetoothGatt.GATT_SUCCESS) done(value)
    }
}
