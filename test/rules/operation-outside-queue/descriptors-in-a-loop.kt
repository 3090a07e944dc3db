package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

class Frames(private val probes: List<BluetoothGattCharacteristic>) : BluetoothGattCallback() {
    private var live = 0

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status != BluetoothGatt.GATT_SUCCESS) return
        for (probe in probes) {
            if (!gatt.setCharacteristicNotification(probe, true)) continue
            val cccd = probe.descriptors.firstOrNull() ?: continue
            cccd.value = BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE
            if (gatt.writeDescriptor(cccd)) live++ //! operation-outside-queue warning
        }
    }
}
