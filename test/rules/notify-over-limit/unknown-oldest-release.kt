package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattService
import java.util.UUID

private val CHANNELS = listOf(
    UUID.fromString("df070101-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070102-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070103-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070104-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070105-7563-45da-9adc-777135148d9e"),
)

/** Nothing says on which releases this runs: five are too many on some that have Bluetooth Low Energy. */
fun listen(gatt: BluetoothGatt, service: BluetoothGattService) {
    for (uuid in CHANNELS) check(gatt.setCharacteristicNotification(service.getCharacteristic(uuid), true)) //! notify-over-limit hint
}
