package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class Uploader(private val data: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    private var image = ByteArray(0)
    private var offset = 0

    fun begin(gatt: BluetoothGatt, image: ByteArray) {
        this.image = image
        offset = 0
        gatt.requestMtu(247) //! operation-outside-queue hint
    }

    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) = sendChunk(gatt)

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return gatt.disconnect()
        if (offset < image.size) sendChunk(gatt)
    }

    private fun sendChunk(gatt: BluetoothGatt) {
        val end = minOf(offset + 20, image.size)
        data.value = image.copyOfRange(offset, end)
        offset = end
        gatt.writeCharacteristic(data)
    }
}
