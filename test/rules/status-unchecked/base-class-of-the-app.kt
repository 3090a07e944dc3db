import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

abstract class Base : BluetoothGattCallback() {
    abstract fun onWeight(bytes: ByteArray)
    abstract fun onFailure(status: Int)

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) onWeight(characteristic.value) else onFailure(status)
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) { //! status-unchecked warning
        onWeight(characteristic.value)
    }
}

/** Its base class tests what it is handed. */
class Scale(private val log: (String) -> Unit) : Base() {
    var weight = byteArrayOf()

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        super.onCharacteristicRead(gatt, characteristic, status)
        log("read")
    }

    override fun onWeight(bytes: ByteArray) {
        weight = bytes
    }

    override fun onFailure(status: Int) = log("failed: $status")
}
