import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.util.Log

class Elvis {
    var gatt: BluetoothGatt? = null

    fun read(c: BluetoothGattCharacteristic) {
        gatt?.readCharacteristic(c) ?: fallback() //! start-result-unchecked warning
        gatt?.readCharacteristic(c) ?: return //! start-result-unchecked warning
    }

    fun first(c: BluetoothGattCharacteristic?) {
        c?.let { gatt?.readCharacteristic(it) } ?: run { Log.w("Scale", "no weight") } //! start-result-unchecked warning
    }

    private fun fallback() = Log.w("Scale", "no link")
}
