import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

/** The blocks yield the flag, and the runner throws it away. */
class DroppingQueue(private val gatt: BluetoothGatt) {
    private val waiting = ArrayDeque<() -> Boolean>()

    fun read(c: BluetoothGattCharacteristic) {
        run { gatt.readCharacteristic(c) } //! start-result-unchecked warning
        perform { gatt.readCharacteristic(c) } //! start-result-unchecked warning
    }

    private fun perform(start: () -> Boolean) {
        start()
    }
}
