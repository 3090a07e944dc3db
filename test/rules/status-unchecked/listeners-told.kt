import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

interface Listener {
    fun onRead(c: BluetoothGattCharacteristic, status: Int)
    fun onWritten(c: BluetoothGattCharacteristic)
}

class Callback(private val listeners: List<Listener>) : BluetoothGattCallback() {
    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        listeners.forEach { it.onRead(characteristic, status) }
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) { //! status-unchecked warning
        listeners.forEach { it.onWritten(characteristic) }
    }
}
