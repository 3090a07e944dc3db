@file:Suppress("DEPRECATION", "OVERRIDE_DEPRECATION")

package camplights

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile

/** Turns what the system says into messages; it decides nothing. */
internal class LightCallback(private val machine: LightMachine) : BluetoothGattCallback() {

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (newState == BluetoothProfile.STATE_CONNECTED) {
            tell(gatt, LightMachine.CONNECTED, status)
        } else {
            tell(gatt, LightMachine.DISCONNECTED, status)
        }
    }

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) = tell(gatt, LightMachine.DISCOVERED, status)

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) =
        tell(gatt, LightMachine.ANSWER, status, characteristic.value?.copyOf())

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) =
        tell(gatt, LightMachine.ANSWER, status)

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) =
        tell(gatt, LightMachine.ANSWER, status)

    override fun onCharacteristicChanged(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic) {
        val value = characteristic.value ?: return
        tell(gatt, LightMachine.CHANGED, BluetoothGatt.GATT_SUCCESS, value.copyOf())
    }

    private fun tell(gatt: BluetoothGatt, what: Int, status: Int, value: ByteArray? = null) {
        if (machine.isCurrent(gatt)) machine.post(what, value, status)
    }
}
