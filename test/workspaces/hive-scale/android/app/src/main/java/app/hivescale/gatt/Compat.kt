@file:Suppress("MissingPermission", "DEPRECATION")

package app.hivescale.gatt

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothStatusCodes
import android.os.Build

/** The forms with a value exist from Android 13 on; older systems take the value from the object. True: accepted. */
internal fun BluetoothGatt.writeValue(
    characteristic: BluetoothGattCharacteristic,
    value: ByteArray,
    writeType: Int = BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT,
): Boolean =
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
        writeCharacteristic(characteristic, value, writeType) == BluetoothStatusCodes.SUCCESS
    } else {
        characteristic.writeType = writeType
        characteristic.value = value
        writeCharacteristic(characteristic)
    }

internal fun BluetoothGatt.writeCccd(cccd: BluetoothGattDescriptor, value: ByteArray): Boolean {
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
        return writeDescriptor(cccd, value) == BluetoothStatusCodes.SUCCESS
    }
    cccd.value = value
    return writeDescriptor(cccd)
}

/** What belongs into the CCCD: the alarm indicates, everything else notifies. */
internal fun BluetoothGattCharacteristic.enableValue(): ByteArray =
    if ((properties and BluetoothGattCharacteristic.PROPERTY_INDICATE) != 0) {
        BluetoothGattDescriptor.ENABLE_INDICATION_VALUE
    } else {
        BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE
    }
