import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

interface Readings {
    fun onWeight(bytes: ByteArray)
    fun onSignal(dbm: Int)
    fun onReady()
}

class Callback(private val readings: Readings) : BluetoothGattCallback() {
    private var writing = false
    private var payload = 20
    private val waiting = ArrayDeque<() -> Boolean>()

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) {
            gatt.close()
            return
        }
        gatt.services.forEach { println(it.uuid) }
        readings.onReady()
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        readings.onWeight(characteristic.value)
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
        super.onCharacteristicRead(gatt, characteristic, value, status)
        readings.onWeight(value)
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        writing = false
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        waiting.removeFirstOrNull()?.invoke()
    }

    override fun onReadRemoteRssi(gatt: BluetoothGatt, rssi: Int, status: Int) {
        readings.onSignal(rssi)
    }

    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
        payload = mtu - 3
    }

    override fun onReliableWriteCompleted(gatt: BluetoothGatt, status: Int) {
        readings.onReady()
    }
}
