import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Wrapper(private val gatt: BluetoothGatt) {
    fun read(c: BluetoothGattCharacteristic): Boolean = gatt.readCharacteristic(c)

    fun refresh(c: BluetoothGattCharacteristic): Boolean {
        return read(c)
    }
}

class Screen(private val link: Wrapper) {
    fun open(c: BluetoothGattCharacteristic) {
        link.refresh(c) //! start-result-unchecked hint
    }

    fun button(c: BluetoothGattCharacteristic) {
        if (link.refresh(c)) println("reading")
    }
}
