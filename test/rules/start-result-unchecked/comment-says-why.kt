import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Tolerated(private val gatt: BluetoothGatt) {
    fun signal() {
        // Best effort: if it is refused, the old figure stays on the screen until the next tick.
        gatt.readRemoteRssi() //! start-result-unchecked hint
    }

    fun read(c: BluetoothGattCharacteristic) {
        // Ask for the weight.
        gatt.readCharacteristic(c) //! start-result-unchecked warning
    }
}
