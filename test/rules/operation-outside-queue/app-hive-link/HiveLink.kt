package hive.link

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.content.Context
import java.io.Closeable
import java.util.UUID

class HiveLink(private val context: Context, private val queue: GattQueue) : Closeable {
    private var gatt: BluetoothGatt? = null

    fun open(device: BluetoothDevice) {
        close()
        gatt = device.connectGatt(context, false, callback)
    }

    override fun close() {
        queue.abandon()
        gatt?.close()
        gatt = null
    }

    fun find(uuid: UUID): BluetoothGattCharacteristic? =
        gatt?.services?.firstNotNullOfOrNull { it.getCharacteristic(uuid) }

    fun read(uuid: UUID, done: (ByteArray?) -> Unit) {
        val characteristic = find(uuid) ?: return done(null)
        queue.submit(ReadRequest(characteristic, done))
    }

    fun write(uuid: UUID, value: ByteArray, done: (Boolean) -> Unit) {
        val characteristic = find(uuid) ?: return done(false)
        queue.submit(WriteRequest(characteristic, value, done))
    }

    fun listen(vararg uuids: UUID) {
        for (uuid in uuids) find(uuid)?.let { queue.submit(ListenRequest(it) { close() }) }
    }

    /** For the lamp in the lid, which cannot wait. */
    fun flash(): Boolean {
        val lamp = find(LAMP) ?: return false
        lamp.value = byteArrayOf(1)
        return gatt?.writeCharacteristic(lamp) ?: false //! operation-outside-queue warning
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) {
                if (!gatt.discoverServices()) close()
            } else {
                close()
            }
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            if (status != BluetoothGatt.GATT_SUCCESS) return close()
            queue.open(gatt)
        }

        override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) =
            queue.ended(status == BluetoothGatt.GATT_SUCCESS, characteristic.value ?: ByteArray(0))

        override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) =
            queue.ended(status == BluetoothGatt.GATT_SUCCESS)

        override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) =
            queue.ended(status == BluetoothGatt.GATT_SUCCESS)
    }

    companion object {
        val LAMP: UUID = UUID.fromString("df070131-7563-45da-9adc-777135148d9e")
    }
}
