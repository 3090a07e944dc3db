package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattDescriptor
import java.util.UUID

class Search(private val wanted: UUID) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        for (service in gatt.services) {
            for (characteristic in service.characteristics) {
                if (characteristic.uuid == wanted) {
                    gatt.setCharacteristicNotification(characteristic, true)
                    characteristic.descriptors.firstOrNull()?.let { gatt.writeDescriptor(it) }
                }
            }
        }
    }

    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
        for (service in gatt.services) {
            val found = service.characteristics.find { it.uuid == wanted } ?: continue
            gatt.readCharacteristic(found)
            return
        }
        gatt.discoverServices()
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        gatt.services.forEach { service ->
            service.characteristics.forEach characteristics@{ characteristic ->
                if (characteristic.uuid.toString() != WEIGHT) return@characteristics
                gatt.readCharacteristic(characteristic)
            }
        }
    }

    private companion object {
        const val WEIGHT = "df070101-7563-45da-9adc-777135148d9e"
    }
}
