package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattService
import android.content.Context
import java.util.UUID

private val FIRST = listOf(
    UUID.fromString("df070101-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070102-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070103-7563-45da-9adc-777135148d9e"),
)
private val SECOND = listOf(
    UUID.fromString("df070111-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070112-7563-45da-9adc-777135148d9e"),
)

/** Three, then a new client with two: what is closed gives its places back. */
class Twice(private val context: Context, private val device: BluetoothDevice, private val callback: BluetoothGattCallback) {
    private var gatt: BluetoothGatt? = null

    fun listen(service: BluetoothGattService) {
        for (uuid in FIRST) check(gatt!!.setCharacteristicNotification(service.getCharacteristic(uuid), true))
        gatt?.close()
        gatt = device.connectGatt(context, false, callback)
        for (uuid in SECOND) check(gatt!!.setCharacteristicNotification(service.getCharacteristic(uuid), true))
    }
}
