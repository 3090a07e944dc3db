package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothProfile
import android.content.Context

/** A visit that closes when it has the weight; a scale out of reach never gives one. */
class QuickWeighing(private val context: Context, private val done: (ByteArray) -> Unit) : BluetoothGattCallback() {
    private var gatt: BluetoothGatt? = null

    fun weigh(device: BluetoothDevice) {
        if (gatt == null) gatt = device.connectGatt(context, false, this) //! link-not-closed warning
    }

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) gatt.discoverServices()
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
        gatt.disconnect()
        gatt.close()
        if (status == BluetoothGatt.GATT_SUCCESS) done(value)
    }
}
