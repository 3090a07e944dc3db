import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Defaults {
    var gatt: BluetoothGatt? = null

    fun read(c: BluetoothGattCharacteristic) {
        val started = gatt?.readCharacteristic(c) ?: false
        if (!started) throw IllegalStateException("not accepted")
    }

    fun again(c: BluetoothGattCharacteristic) {
        if (gatt?.readCharacteristic(c) != true) retry()
        if (gatt?.readCharacteristic(c) == true) return
        retry()
    }

    fun value(c: BluetoothGattCharacteristic) = gatt?.readCharacteristic(c) ?: false

    private fun retry() = Unit
}
