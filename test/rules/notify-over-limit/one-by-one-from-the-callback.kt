package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattDescriptor
import java.util.UUID

private val HIVE = UUID.fromString("df070100-7563-45da-9adc-777135148d9e")

/** Six are waiting; each completion takes one. No single way through the code is known to make more than one. */
class Listening : BluetoothGattCallback() {
    private val waiting = ArrayDeque(
        listOf(
            UUID.fromString("df070101-7563-45da-9adc-777135148d9e"),
            UUID.fromString("df070102-7563-45da-9adc-777135148d9e"),
            UUID.fromString("df070103-7563-45da-9adc-777135148d9e"),
            UUID.fromString("df070104-7563-45da-9adc-777135148d9e"),
            UUID.fromString("df070105-7563-45da-9adc-777135148d9e"),
            UUID.fromString("df070106-7563-45da-9adc-777135148d9e"),
        ),
    )

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) next(gatt)
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) next(gatt)
    }

    private fun next(gatt: BluetoothGatt) {
        val uuid = waiting.removeFirstOrNull() ?: return
        check(gatt.setCharacteristicNotification(gatt.getService(HIVE).getCharacteristic(uuid), true))
    }
}
