package hive.tested

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

/** A double that notes what it is handed. */
class Noting : BluetoothGattCallback() {
    val written = mutableListOf<ByteArray>()

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) { //! status-unchecked hint
        written.add(characteristic.value)
    }
}

fun whenTheScaleIsAsked(gatt: BluetoothGatt, weight: BluetoothGattCharacteristic) {
    gatt.setCharacteristicNotification(weight, true) //! start-result-unchecked hint
}
