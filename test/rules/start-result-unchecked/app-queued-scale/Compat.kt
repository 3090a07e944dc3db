package hive.queued

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothStatusCodes
import android.os.Build

/** One answer for both forms of a write. */
fun BluetoothGatt.send(command: BluetoothGattCharacteristic, value: ByteArray): Boolean =
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
        writeCharacteristic(command, value, BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT) == BluetoothStatusCodes.SUCCESS
    } else {
        command.value = value
        writeCharacteristic(command)
    }

fun BluetoothGatt.switchOn(values: BluetoothGattCharacteristic, cccd: BluetoothGattDescriptor): Boolean {
    if (!setCharacteristicNotification(values, true)) return false
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
        return writeDescriptor(cccd, BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE) == BluetoothStatusCodes.SUCCESS
    }
    cccd.value = BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE
    return writeDescriptor(cccd)
}

/** Answers nothing, whatever the stack says. */
fun BluetoothGatt.ask(values: BluetoothGattCharacteristic) {
    readCharacteristic(values) //! start-result-unchecked warning
}
