import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.os.Handler
import android.os.Looper
import android.os.Message
import kotlinx.coroutines.CompletableDeferred
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.channels.Channel
import kotlinx.coroutines.launch

data class Outcome(val status: Int, val value: ByteArray?)

sealed interface Event {
    data class Written(val status: Int) : Event
}

enum class Verdict {
    FINE, FAILED;

    companion object {
        fun of(status: Int) = if (status == BluetoothGatt.GATT_SUCCESS) FINE else FAILED
    }
}

private fun Int.isFine() = this == BluetoothGatt.GATT_SUCCESS

class Callback(private val scope: CoroutineScope, private val delegate: BluetoothGattCallback) : BluetoothGattCallback() {
    private val answer = CompletableDeferred<Outcome>()
    private val events = Channel<Event>(Channel.UNLIMITED)
    private val handler = Handler(Looper.getMainLooper())
    var last = 0
    private var weight = byteArrayOf()

    override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
        complete(gatt, status)
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        answer.complete(Outcome(status, characteristic.value))
    }

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        scope.launch { events.send(Event.Written(status)) }
    }

    override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        delegate.onDescriptorWrite(gatt, descriptor, status)
    }

    override fun onDescriptorRead(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
        handler.sendMessage(Message.obtain().apply { arg1 = status })
    }

    override fun onReadRemoteRssi(gatt: BluetoothGatt, rssi: Int, status: Int) {
        if (!status.isFine()) return
        weight = byteArrayOf(rssi.toByte())
    }

    override fun onMtuChanged(gatt: BluetoothGatt, mtu: Int, status: Int) {
        when (Verdict.of(status)) {
            Verdict.FINE -> weight = ByteArray(mtu)
            Verdict.FAILED -> gatt.disconnect()
        }
    }

    override fun onReliableWriteCompleted(gatt: BluetoothGatt, status: Int) {
        last = status
        weight = byteArrayOf()
    }

    private fun complete(gatt: BluetoothGatt, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) weight = byteArrayOf(gatt.services.size.toByte()) else gatt.disconnect()
    }
}
