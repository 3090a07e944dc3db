package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.os.Handler

class Frames(private val handler: Handler, private val gatt: BluetoothGatt) {
    fun refresh(probes: List<BluetoothGattCharacteristic>) {
        probes.forEach { probe ->
            handler.post { gatt.readCharacteristic(probe) } //! operation-outside-queue warning
        }
    }
}
