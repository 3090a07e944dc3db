package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.os.Build

class Writer(private val command: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) write(gatt, byteArrayOf(1))
    }

    private fun write(gatt: BluetoothGatt, value: ByteArray) {
        if (Build.VERSION.SDK_INT >= 33) {
            gatt.writeCharacteristic(command, value, BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT)
        }
        if (Build.VERSION.SDK_INT < Build.VERSION_CODES.TIRAMISU) {
            command.value = value
            gatt.writeCharacteristic(command)
        }
    }
}
