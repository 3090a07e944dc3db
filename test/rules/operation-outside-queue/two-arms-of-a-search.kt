package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import java.util.UUID

class Search : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        for (service in gatt.services) {
            for (characteristic in service.characteristics) {
                when (characteristic.uuid) {
                    WEIGHT -> gatt.readCharacteristic(characteristic)
                    BATTERY -> gatt.readCharacteristic(characteristic) //! operation-outside-queue warning
                }
            }
        }
    }

    private companion object {
        val WEIGHT: UUID = UUID.fromString("df070101-7563-45da-9adc-777135148d9e")
        val BATTERY: UUID = UUID.fromString("00002a19-0000-1000-8000-00805f9b34fb")
    }
}
