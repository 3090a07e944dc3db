package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattService
import java.util.UUID

/** Eight hives with eight probes are sixty-four; the alarm is one more. */
class Listening(private val gatt: BluetoothGatt) {
    fun eight(service: BluetoothGattService) {
        for (row in 0 until 8) {
            for (column in 0 until 8) {
                check(gatt.setCharacteristicNotification(service.getCharacteristic(probe(row * 8 + column)), true))
            }
        }
    }

    fun sixtyFive(service: BluetoothGattService) {
        repeat(64) { i ->
            check(gatt.setCharacteristicNotification(service.getCharacteristic(UUID.fromString("df0701%02x-7563-45da-9adc-777135148d9e".format(i))), true))
        }
        check(gatt.setCharacteristicNotification(service.getCharacteristic(UUID.fromString("df070201-7563-45da-9adc-777135148d9e")), true)) //! notify-over-limit warning
    }

    private fun probe(n: Int): UUID = UUID(0x7563_45daL, n.toLong())
}
