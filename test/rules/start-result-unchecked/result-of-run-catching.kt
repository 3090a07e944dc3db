import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.util.Log

/** An exception is answered; a plain false is not. */
class Caught(private val gatt: BluetoothGatt) {
    fun dropped(c: BluetoothGattCharacteristic) {
        runCatching { gatt.readCharacteristic(c) } //! start-result-unchecked warning
        runCatching { gatt.readCharacteristic(c) }.onFailure { Log.e("Scale", "read", it) } //! start-result-unchecked warning
        runCatching { gatt.readCharacteristic(c) }.getOrNull() //! start-result-unchecked warning
    }

    fun taken(c: BluetoothGattCharacteristic): Boolean {
        if (!runCatching { gatt.readCharacteristic(c) }.getOrDefault(false)) gatt.disconnect()
        runCatching { gatt.readCharacteristic(c) }.onSuccess { if (!it) gatt.disconnect() }
        val result = runCatching { gatt.readCharacteristic(c) }
        return result.getOrElse { false }
    }
}
