import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.util.Log

class Callback(private val onWeight: (ByteArray) -> Unit, private val onBattery: (Int) -> Unit) : BluetoothGattCallback() {
    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) { //! status-unchecked warning
        if (characteristic.uuid == BATTERY) {
            onBattery(characteristic.value[0].toInt())
            return
        }
        if (status == BluetoothGatt.GATT_SUCCESS) onWeight(characteristic.value)
    }

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) { //! status-unchecked warning
        gatt.services.firstOrNull()?.characteristics?.firstOrNull()?.let { if (!gatt.readCharacteristic(it)) gatt.disconnect() }
        if (status != BluetoothGatt.GATT_SUCCESS) Log.w("Scale", "discovery: $status")
    }

    private companion object {
        val BATTERY: java.util.UUID = java.util.UUID.fromString("00002a19-0000-1000-8000-00805f9b34fb")
    }
}
