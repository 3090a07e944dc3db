import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.util.Log

class Callback(private val onWeight: (ByteArray) -> Unit, private val onFailure: (Int) -> Unit) : BluetoothGattCallback() {
    private var payload = 20

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) {
            gatt.disconnect()
            return
        }
        Log.d("Scale", "services: ${gatt.services.size}")
        onWeight(byteArrayOf())
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        val ok = status == BluetoothGatt.GATT_SUCCESS
        if (ok) onWeight(characteristic.value) else onFailure(status)
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
        when (status) {
            BluetoothGatt.GATT_SUCCESS -> onWeight(value)
            BluetoothGatt.GATT_READ_NOT_PERMITTED -> Log.w("Scale", "not allowed")
            else -> onFailure(status)
        }
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, i2: Int) {
        when {
            i2 in 1..255 -> onFailure(i2)
            else -> onWeight(characteristic.value)
        }
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, p1: BluetoothGattDescriptor, p2: Int) {
        if (p1.uuid != null && p2 == 0) onWeight(byteArrayOf(1)) else onFailure(p2)
    }

    override fun onReadRemoteRssi(gatt: BluetoothGatt, rssi: Int, status: Int) {
        rssi.takeIf { status == BluetoothGatt.GATT_SUCCESS }?.let { onWeight(byteArrayOf(it.toByte())) }
    }

    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
        payload = if (status > 0) 20 else mtu - 3
        if (!gatt.discoverServices()) gatt.disconnect()
    }

    override fun onReliableWriteCompleted(gatt: BluetoothGatt, status: Int) {
        check(status == BluetoothGatt.GATT_SUCCESS) { "reliable write: $status" }
        onWeight(byteArrayOf(2))
    }
}
