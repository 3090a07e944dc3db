package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Beeper(private val gatt: BluetoothGatt, private val tone: BluetoothGattCharacteristic) {
    fun beep(): Boolean = gatt.writeCharacteristic(tone) //! operation-outside-queue hint
}
