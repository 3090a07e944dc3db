import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.util.Log

private fun nameOf(status: Int): String = when (status) {
    BluetoothGatt.GATT_SUCCESS -> "success"
    133 -> "could not open"
    else -> Integer.toHexString(status)
}

/** Printing it is not looking. */
class Callback(private val onWeight: (ByteArray) -> Unit) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) { //! status-unchecked warning
        Log.d(TAG, "discovered: $status")
        onWeight(byteArrayOf(gatt.services.size.toByte()))
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) { //! status-unchecked warning
        note("read: " + nameOf(status))
        onWeight(characteristic.value)
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) { //! status-unchecked warning
        val text = "written: ${status.toString(16)}"
        status.also { Log.v(TAG, "status $it") }
        Log.d(TAG, text)
        onWeight(characteristic.value)
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) { //! status-unchecked warning
        Log.d(TAG, "subscribed: ${status == BluetoothGatt.GATT_SUCCESS}")
        onWeight(byteArrayOf())
    }

    private fun note(text: String) {
        Log.i(TAG, text)
    }

    private companion object {
        const val TAG = "Scale"
    }
}
