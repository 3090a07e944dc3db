package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.delay

class Uploader(private val gatt: BluetoothGatt, private val data: BluetoothGattCharacteristic) {
    suspend fun send(chunks: List<ByteArray>) {
        for (chunk in chunks) {
            data.value = chunk
            gatt.writeCharacteristic(data) //! operation-outside-queue hint
            delay(30)
        }
    }
}
