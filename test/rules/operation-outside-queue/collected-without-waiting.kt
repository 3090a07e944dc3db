package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.flow.Flow
import kotlinx.coroutines.launch

class Dimmer(private val scope: CoroutineScope, private val gatt: BluetoothGatt, private val light: BluetoothGattCharacteristic) {
    fun follow(levels: Flow<Int>) {
        scope.launch {
            levels.collect { level ->
                light.value = byteArrayOf(level.toByte())
                gatt.writeCharacteristic(light) //! operation-outside-queue warning
            }
        }
    }
}
