import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Wrapper(private val gatt: BluetoothGatt) {
    val discovering get() = gatt.discoverServices()

    fun read(c: BluetoothGattCharacteristic) = gatt.readCharacteristic(c)

    fun block(c: BluetoothGattCharacteristic): Boolean {
        return gatt.readCharacteristic(c)
    }

    fun early(c: BluetoothGattCharacteristic?): Boolean {
        c ?: return false
        return gatt.run {
            setCharacteristicNotification(c, true) && readCharacteristic(c)
        }
    }
}

class Screen(private val link: Wrapper) {
    fun refresh(c: BluetoothGattCharacteristic) {
        if (!link.read(c) && !link.block(c)) show("refused")
    }

    private var shown = ""

    private fun show(text: String) {
        shown = text
    }
}
