@file:Suppress("MissingPermission", "DEPRECATION")

package app.gardenvalves.ble

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothStatusCodes
import android.os.Build

/** One thing to do on the air. [start] says whether the stack took it; [done] hears once how it ended. */
internal sealed class Operation(val done: (Answer) -> Unit) {

    sealed interface Answer {
        class Value(val bytes: ByteArray) : Answer
        data object Acknowledged : Answer
        data class Refused(val why: String) : Answer
    }

    abstract fun start(gatt: BluetoothGatt): Boolean

    class Discover(done: (Answer) -> Unit) : Operation(done) {
        override fun start(gatt: BluetoothGatt) = gatt.discoverServices()
    }

    class Mtu(private val octets: Int, done: (Answer) -> Unit) : Operation(done) {
        override fun start(gatt: BluetoothGatt) = gatt.requestMtu(octets)
    }

    class Read(private val from: BluetoothGattCharacteristic, done: (Answer) -> Unit) : Operation(done) {
        override fun start(gatt: BluetoothGatt) = gatt.readCharacteristic(from)
    }

    class Write(
        private val to: BluetoothGattCharacteristic,
        private val bytes: ByteArray,
        done: (Answer) -> Unit,
    ) : Operation(done) {

        override fun start(gatt: BluetoothGatt): Boolean {
            if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
                return gatt.writeCharacteristic(to, bytes, to.writeType) == BluetoothStatusCodes.SUCCESS
            }
            to.value = bytes
            return gatt.writeCharacteristic(to)
        }
    }

    /** Registers here and tells the box, both or neither. */
    class Subscribe(private val to: BluetoothGattCharacteristic, done: (Answer) -> Unit) : Operation(done) {

        override fun start(gatt: BluetoothGatt): Boolean {
            val cccd = to.getDescriptor(ValveGatt.CCCD) ?: return false
            if (!gatt.setCharacteristicNotification(to, true)) return false
            val on = BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE
            if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
                return gatt.writeDescriptor(cccd, on) == BluetoothStatusCodes.SUCCESS
            }
            cccd.value = on
            return gatt.writeDescriptor(cccd)
        }
    }
}
