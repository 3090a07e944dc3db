package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothProfile
import android.content.Context

/** One reading, then the app ends the link itself, and the callback closes it. */
class OneReading(private val context: Context, private val done: (ByteArray) -> Unit) : BluetoothGattCallback() {
    private var gatt: BluetoothGatt? = null

    fun take(device: BluetoothDevice) {
        if (gatt == null) gatt = device.connectGatt(context, false, this)
    }

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
            if (!gatt.discoverServices()) gatt.disconnect()
        } else {
            gatt.close()
            this.gatt = null
        }
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) done(value)
        gatt.disconnect()
    }
}
