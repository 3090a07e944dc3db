package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic

class SetUp(private val weight: BluetoothGattCharacteristic, private val alarm: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    private val steps = ArrayDeque<(BluetoothGatt) -> Unit>(
        listOf(
            { gatt -> gatt.requestMtu(185) },
            { gatt -> gatt.readCharacteristic(weight) },
            { gatt -> gatt.writeDescriptor(alarm.descriptors.first()) },
        ),
    )

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) = step(gatt)

    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) = step(gatt)

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = step(gatt)

    private fun step(gatt: BluetoothGatt) {
        steps.removeFirstOrNull()?.invoke(gatt)
    }
}
