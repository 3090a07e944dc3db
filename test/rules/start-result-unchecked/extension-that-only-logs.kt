import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.util.Log

private fun Boolean.logged(): Boolean {
    Log.d("Scale", "accepted: $this")
    return this
}

private fun Boolean.ignored() = Unit

class Extended(private val gatt: BluetoothGatt) {
    fun read(c: BluetoothGattCharacteristic) {
        gatt.readCharacteristic(c).logged() //! start-result-unchecked hint
        gatt.readCharacteristic(c).ignored() //! start-result-unchecked warning
        ignore(gatt.readCharacteristic(c)) //! start-result-unchecked warning
        gatt.readCharacteristic(c).toString() //! start-result-unchecked warning
    }

    private fun ignore(@Suppress("UNUSED_PARAMETER") result: Boolean) {
        Log.d("Scale", "reading")
    }
}
