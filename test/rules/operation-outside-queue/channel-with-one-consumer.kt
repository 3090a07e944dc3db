package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.channels.Channel
import kotlinx.coroutines.launch

class Commands(scope: CoroutineScope, private val gatt: BluetoothGatt, private val command: BluetoothGattCharacteristic) : BluetoothGattCallback() {
    private val requests = Channel<ByteArray>(Channel.UNLIMITED)
    private val written = Channel<Int>(Channel.CONFLATED)

    init {
        scope.launch {
            for (request in requests) {
                command.value = request
                if (gatt.writeCharacteristic(command)) written.receive()
            }
        }
    }

    fun send(request: ByteArray) {
        requests.trySend(request)
    }

    fun sendAll(all: List<ByteArray>) = all.forEach { send(it) }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        written.trySend(status)
    }
}
