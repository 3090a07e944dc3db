package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import java.util.concurrent.atomic.AtomicBoolean

class Guarded(private val gatt: BluetoothGatt, private val weight: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    private var busy = false
    private val reading = AtomicBoolean(false)
    private var pending: ((ByteArray) -> Unit)? = null

    fun write(): Boolean {
        if (busy) return false
        busy = true
        return gatt.writeCharacteristic(weight)
    }

    fun signal() {
        if (!reading.compareAndSet(false, true)) return
        gatt.readRemoteRssi()
    }

    fun read(done: (ByteArray) -> Unit) {
        if (pending != null) throw IllegalStateException("one at a time")
        pending = done
        gatt.readCharacteristic(weight)
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        busy = false
    }

    override fun onReadRemoteRssi(gatt: BluetoothGatt, rssi: Int, status: Int) = reading.set(false)

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        pending?.invoke(characteristic.value)
        pending = null
    }
}
