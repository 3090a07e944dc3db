import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

sealed class Operation {
    abstract fun execute(gatt: BluetoothGatt): Boolean

    class Read(private val c: BluetoothGattCharacteristic) : Operation() {
        override fun execute(gatt: BluetoothGatt) = gatt.readCharacteristic(c)
    }

    class Write(private val c: BluetoothGattCharacteristic, private val value: ByteArray) : Operation() {
        override fun execute(gatt: BluetoothGatt): Boolean {
            c.value = value
            return gatt.writeCharacteristic(c)
        }
    }

    object Discover : Operation() {
        override fun execute(gatt: BluetoothGatt): Boolean = try {
            gatt.discoverServices()
        } catch (e: SecurityException) {
            false
        }
    }
}

interface Step {
    fun perform(gatt: BluetoothGatt)
}

class ReadStep(private val c: BluetoothGattCharacteristic) : Step {
    override fun perform(gatt: BluetoothGatt) {
        gatt.readCharacteristic(c) //! start-result-unchecked warning
    }
}

class Runner(private val gatt: BluetoothGatt) {
    fun run(operation: Operation) {
        if (!operation.execute(gatt)) gatt.disconnect()
    }
}
