package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattService
import java.util.UUID

private val WEIGHT = UUID.fromString("df070101-7563-45da-9adc-777135148d9e")
private val SOUND = UUID.fromString("df070102-7563-45da-9adc-777135148d9e")
private val ALARM = UUID.fromString("df070103-7563-45da-9adc-777135148d9e")
private val BATTERY = UUID.fromString("00002a19-0000-1000-8000-00805f9b34fb")

/** Four, and the weight twice, which costs one place only. */
class Listening(private val gatt: BluetoothGatt) {
    fun listen(service: BluetoothGattService): Boolean {
        for (uuid in listOf(WEIGHT, SOUND, ALARM, BATTERY)) {
            if (!gatt.setCharacteristicNotification(service.getCharacteristic(uuid), true)) return false
        }
        return gatt.setCharacteristicNotification(service.getCharacteristic(WEIGHT), true)
    }
}
