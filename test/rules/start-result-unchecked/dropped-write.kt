import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Tare(private val gatt: BluetoothGatt) {
    fun send(command: BluetoothGattCharacteristic) {
        gatt.writeCharacteristic(command) //! start-result-unchecked warning
    }
}
