package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

/** One press, one more; how often, nobody knows. */
class Chosen(private val gatt: BluetoothGatt) {
    fun listenTo(characteristic: BluetoothGattCharacteristic) {
        check(gatt.setCharacteristicNotification(characteristic, true))
    }

    fun listenToAll(characteristics: List<BluetoothGattCharacteristic>) {
        characteristics.forEach { listenTo(it) }
    }
}
