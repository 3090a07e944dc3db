import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

/** The comparison can never hold: one side is a boolean, the other a number. */
class Miscompared(private val gatt: BluetoothGatt) {
    fun read(c: BluetoothGattCharacteristic) {
        if (gatt.readCharacteristic(c).equals(BluetoothGatt.GATT_FAILURE)) gatt.disconnect() //! start-result-unchecked warning
    }
}
