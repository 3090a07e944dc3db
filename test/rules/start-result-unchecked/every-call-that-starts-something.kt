import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothGattServer

class Client(private val gatt: BluetoothGatt) {
    fun reconnect() {
        gatt.connect() //! start-result-unchecked warning
    }

    fun discover() {
        gatt.discoverServices() //! start-result-unchecked warning
    }

    fun exchange() {
        gatt.requestMtu(247) //! start-result-unchecked warning
    }

    fun signal() {
        gatt.readRemoteRssi() //! start-result-unchecked warning
    }

    fun read(weight: BluetoothGattCharacteristic) {
        gatt.readCharacteristic(weight) //! start-result-unchecked warning
    }

    fun describe(format: BluetoothGattDescriptor) {
        gatt.readDescriptor(format) //! start-result-unchecked warning
    }

    fun write(command: BluetoothGattCharacteristic, bytes: ByteArray) {
        gatt.writeCharacteristic(command, bytes, BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT) //! start-result-unchecked warning
    }

    fun configure(cccd: BluetoothGattDescriptor) {
        gatt.writeDescriptor(cccd) //! start-result-unchecked warning
    }

    fun configureNew(cccd: BluetoothGattDescriptor) {
        gatt.writeDescriptor(cccd, BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE) //! start-result-unchecked warning
    }

    fun register(weight: BluetoothGattCharacteristic) {
        gatt.setCharacteristicNotification(weight, true) //! start-result-unchecked warning
    }

    fun prepare() {
        gatt.beginReliableWrite() //! start-result-unchecked warning
    }

    fun execute() {
        gatt.executeReliableWrite() //! start-result-unchecked warning
    }
}

class Server(private val server: BluetoothGattServer) {
    fun tell(hub: BluetoothDevice, weight: BluetoothGattCharacteristic) {
        server.notifyCharacteristicChanged(hub, weight, false) //! start-result-unchecked warning
    }

    fun tellNew(hub: BluetoothDevice, weight: BluetoothGattCharacteristic, bytes: ByteArray) {
        server.notifyCharacteristicChanged(hub, weight, true, bytes) //! start-result-unchecked warning
    }

    fun call(hub: BluetoothDevice) {
        server.connect(hub, false) //! start-result-unchecked warning
    }
}
