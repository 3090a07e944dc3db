package hive

import android.bluetooth.BluetoothGatt
import java.util.UUID

private val HIVE = UUID.fromString("df070100-7563-45da-9adc-777135148d9e")
private val WEIGHT = UUID.fromString("df070101-7563-45da-9adc-777135148d9e")

/** Ten hives with a client each: one registration on every client. */
class Apiary(a: BluetoothGatt, b: BluetoothGatt, c: BluetoothGatt, d: BluetoothGatt, e: BluetoothGatt) {
    private val links = listOf(a, b, c, d, e)

    fun listen() {
        for (link in links) {
            val weight = link.getService(HIVE)?.getCharacteristic(WEIGHT) ?: continue
            check(link.setCharacteristicNotification(weight, true))
        }
    }
}
