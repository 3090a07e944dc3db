import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class NeverRead(private val gatt: BluetoothGatt) {
    private var lastAccepted = false

    fun local(c: BluetoothGattCharacteristic) {
        val started = gatt.readCharacteristic(c) //! start-result-unchecked warning
    }

    fun assigned(c: BluetoothGattCharacteristic) {
        var started = false
        started = gatt.readCharacteristic(c) //! start-result-unchecked warning
    }

    fun gathered(all: List<BluetoothGattCharacteristic>) {
        var ok = true
        for (c in all) ok = ok and gatt.setCharacteristicNotification(c, true) //! start-result-unchecked warning
    }

    fun privately(c: BluetoothGattCharacteristic) {
        lastAccepted = gatt.readCharacteristic(c) //! start-result-unchecked warning
    }
}
