package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattService
import java.util.UUID

enum class Mode { Weight, Climate, Sound }

/** Nine in all, three in any mode. */
class Modes(private val gatt: BluetoothGatt, private val service: BluetoothGattService) {
    fun listen(mode: Mode) = when (mode) {
        Mode.Weight -> listenTo(0x101, 0x102, 0x103)
        Mode.Climate -> listenTo(0x111, 0x112, 0x113)
        Mode.Sound -> listenTo(0x121, 0x122, 0x123)
    }

    private fun listenTo(a: Int, b: Int, c: Int) {
        one(a)
        one(b)
        one(c)
    }

    private fun one(n: Int) {
        val uuid = UUID.fromString("df07%04x-7563-45da-9adc-777135148d9e".format(n))
        check(gatt.setCharacteristicNotification(service.getCharacteristic(uuid), true))
    }
}
