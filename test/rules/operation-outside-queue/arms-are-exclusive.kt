package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor

enum class Step { READ, WRITE, LISTEN }

class Steps(private val gatt: BluetoothGatt, private val weight: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    private var step = Step.READ

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        when (step) {
            Step.READ -> gatt.readCharacteristic(weight)
            Step.WRITE -> gatt.writeCharacteristic(weight)
            Step.LISTEN -> if (weight.descriptors.isEmpty()) gatt.readRemoteRssi() else gatt.readDescriptor(weight.descriptors.first())
        }
    }
}
