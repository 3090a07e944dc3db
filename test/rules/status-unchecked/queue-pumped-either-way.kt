import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

/** The next operation has to be started whatever became of this one; the value is only taken on success. */
class Callback(private val onWeight: (ByteArray) -> Unit, private val onFailure: (Int) -> Unit) : BluetoothGattCallback() {
    private val waiting = ArrayDeque<() -> Boolean>()
    private var busy = false

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        if (characteristic.uuid == WEIGHT && status == BluetoothGatt.GATT_SUCCESS) onWeight(characteristic.value)
        next()
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        busy = false
        if (status != BluetoothGatt.GATT_SUCCESS) onFailure(status)
        next()
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        next()
        if (status != BluetoothGatt.GATT_SUCCESS) onFailure(status)
    }

    private fun next() {
        busy = waiting.removeFirstOrNull()?.invoke() == true
    }

    private companion object {
        val WEIGHT: java.util.UUID = java.util.UUID.fromString("5d3c0001-8b21-4f6e-9a0d-6f1c2b7e4a10")
    }
}
