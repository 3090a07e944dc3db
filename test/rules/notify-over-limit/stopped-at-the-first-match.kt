package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattService
import java.util.UUID

private val CANDIDATES = listOf(
    UUID.fromString("df070101-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070102-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070103-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070104-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070105-7563-45da-9adc-777135148d9e"),
)

/** Five firmware versions have five numbers for the same thing; the first that is there is taken. */
fun listen(gatt: BluetoothGatt, service: BluetoothGattService) {
    for (uuid in CANDIDATES) {
        val weight = service.getCharacteristic(uuid) ?: continue
        check(gatt.setCharacteristicNotification(weight, true))
        break
    }
}
