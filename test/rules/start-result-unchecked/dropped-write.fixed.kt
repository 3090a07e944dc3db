import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Tare(private val gatt: BluetoothGatt) {
    fun send(command: BluetoothGattCharacteristic) {
        if (!gatt.writeCharacteristic(command)) {
            gatt.close()
        }
    }
}
