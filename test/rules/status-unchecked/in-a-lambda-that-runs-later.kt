import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.os.Handler
import android.os.Looper
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.launch

class Callback(private val scope: CoroutineScope, private val onWeight: (ByteArray) -> Unit) : BluetoothGattCallback() {
    private val handler = Handler(Looper.getMainLooper())

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        handler.post {
            if (status == BluetoothGatt.GATT_SUCCESS) onWeight(characteristic.value)
        }
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        scope.launch {
            if (status != BluetoothGatt.GATT_SUCCESS) return@launch
            onWeight(characteristic.value)
        }
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) { //! status-unchecked warning
        handler.post { onWeight(descriptor.value) }
    }

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) {
            handler.postDelayed({ onWeight(byteArrayOf(gatt.services.size.toByte())) }, 100)
        } else {
            handler.post { gatt.disconnect() }
        }
    }

    override fun onReadRemoteRssi(gatt: BluetoothGatt, rssi: Int, status: Int) { //! status-unchecked warning
        scope.launch {
            if (rssi > -80) onWeight(byteArrayOf(rssi.toByte()))
        }
    }
}
