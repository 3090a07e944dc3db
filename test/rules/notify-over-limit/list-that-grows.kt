package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattService
import java.util.UUID

/** What has been added by then, nobody can say. */
class Wanted(private val gatt: BluetoothGatt) {
    private val uuids = mutableListOf(UUID.fromString("df070101-7563-45da-9adc-777135148d9e"))

    fun want(uuid: UUID) {
        uuids.add(uuid)
    }

    fun listen(service: BluetoothGattService) {
        for (uuid in uuids) check(gatt.setCharacteristicNotification(service.getCharacteristic(uuid), true))
    }
}
