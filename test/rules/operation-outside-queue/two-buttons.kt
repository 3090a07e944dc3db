package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.widget.Button

class Panel(private val gatt: BluetoothGatt, private val weight: BluetoothGattCharacteristic, private val command: BluetoothGattCharacteristic) {
    fun attach(read: Button, tare: Button) {
        read.setOnClickListener { gatt.readCharacteristic(weight) } //! operation-outside-queue hint
        tare.setOnClickListener { gatt.writeCharacteristic(command) } //! operation-outside-queue hint
    }
}
