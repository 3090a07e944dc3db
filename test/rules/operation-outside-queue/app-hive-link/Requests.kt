package hive.link

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

class ReadRequest(private val characteristic: BluetoothGattCharacteristic, private val done: (ByteArray?) -> Unit) : Request {
    override val name = "read ${characteristic.uuid}"

    override fun start(gatt: BluetoothGatt): Boolean = gatt.readCharacteristic(characteristic)

    override fun end(succeeded: Boolean, value: ByteArray) = done(value.takeIf { succeeded })
}

class WriteRequest(
    private val characteristic: BluetoothGattCharacteristic,
    private val value: ByteArray,
    private val done: (Boolean) -> Unit,
) : Request {
    override val name = "write ${characteristic.uuid}"

    override fun start(gatt: BluetoothGatt): Boolean {
        characteristic.value = value
        return gatt.writeCharacteristic(characteristic)
    }

    override fun end(succeeded: Boolean, value: ByteArray) = done(succeeded)
}

class ListenRequest(private val characteristic: BluetoothGattCharacteristic, private val failed: () -> Unit) : Request {
    override val name = "listen ${characteristic.uuid}"

    override fun start(gatt: BluetoothGatt): Boolean {
        val cccd = characteristic.descriptors.firstOrNull() ?: return false
        cccd.value = BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE
        return gatt.setCharacteristicNotification(characteristic, true) && gatt.writeDescriptor(cccd)
    }

    override fun end(succeeded: Boolean, value: ByteArray) {
        if (!succeeded) failed()
    }
}
