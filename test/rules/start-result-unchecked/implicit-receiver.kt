import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

typealias Link = BluetoothGatt

private fun BluetoothGatt.refresh(c: BluetoothGattCharacteristic) {
    readCharacteristic(c) //! start-result-unchecked warning
}

private fun Link.exchange() {
    this.requestMtu(185) //! start-result-unchecked warning
}

private fun Link.tryExchange() = requestMtu(185)

class Implicit(private val link: Link) {
    fun go(c: BluetoothGattCharacteristic) = with(link) {
        refresh(c)
        exchange()
        if (!tryExchange()) disconnect()
    }
}
