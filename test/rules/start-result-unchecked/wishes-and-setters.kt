import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothGattServer
import android.bluetooth.BluetoothGattService

class Wishes(private val gatt: BluetoothGatt, private val server: BluetoothGattServer) {
    fun hurry() {
        gatt.requestConnectionPriority(BluetoothGatt.CONNECTION_PRIORITY_HIGH) //! start-result-unchecked hint
    }

    fun phy() {
        gatt.setPreferredPhy(BluetoothDevice.PHY_LE_2M, BluetoothDevice.PHY_LE_2M, BluetoothDevice.PHY_OPTION_NO_PREFERRED)
    }

    fun bond(scale: BluetoothDevice) {
        scale.createBond() //! start-result-unchecked hint
    }

    fun offer(service: BluetoothGattService) {
        server.addService(service) //! start-result-unchecked hint
    }

    // Local: nothing is sent, and there is nothing to do about a false.
    fun prepare(command: BluetoothGattCharacteristic, cccd: BluetoothGattDescriptor, service: BluetoothGattService) {
        command.setValue(byteArrayOf(1))
        command.writeType = BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT
        cccd.setValue(BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE)
        command.addDescriptor(cccd)
        service.addCharacteristic(command)
    }

    // Whoever asked has gone, if it is refused.
    fun answer(hub: BluetoothDevice, request: Int) {
        server.sendResponse(hub, request, BluetoothGatt.GATT_SUCCESS, 0, null)
    }
}
