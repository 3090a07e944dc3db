package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattService
import java.util.UUID

/** What is looked up once and kept is what it was looked up by: three, however often they are named. */
class Kept(private val gatt: BluetoothGatt, service: BluetoothGattService) {
    private val weight: BluetoothGattCharacteristic? = service.getCharacteristic(UUID.fromString("df070101-7563-45da-9adc-777135148d9e"))
    private val scale: BluetoothGattCharacteristic? = service.getCharacteristic(UUID.fromString("df070101-7563-45da-9adc-777135148d9e"))
    private val sound: BluetoothGattCharacteristic? = service.getCharacteristic(UUID.fromString("df070102-7563-45da-9adc-777135148d9e"))
    private val alarm: BluetoothGattCharacteristic? = service.characteristics.find { it.uuid == UUID.fromString("df070103-7563-45da-9adc-777135148d9e") }

    fun listen() {
        for (each in listOfNotNull(weight, scale, sound, alarm)) check(gatt.setCharacteristicNotification(each, true))
        val again = weight ?: return
        check(gatt.setCharacteristicNotification(again, true))
        check(gatt.setCharacteristicNotification(scale!!, true))
    }
}
