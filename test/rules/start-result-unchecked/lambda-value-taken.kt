import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.Dispatchers
import kotlinx.coroutines.async
import kotlinx.coroutines.launch
import kotlinx.coroutines.sync.Mutex
import kotlinx.coroutines.sync.withLock
import kotlinx.coroutines.withContext

class Taken(private val scope: CoroutineScope) {
    private var gatt: BluetoothGatt? = null
    private val mutex = Mutex()
    private val lock = Any()

    suspend fun switched(c: BluetoothGattCharacteristic): Boolean = withContext(Dispatchers.IO) { gatt?.readCharacteristic(c) ?: false }

    suspend fun locked(c: BluetoothGattCharacteristic): Boolean {
        val started = mutex.withLock { gatt?.readCharacteristic(c) == true }
        return started
    }

    fun synchronizedly(c: BluetoothGattCharacteristic): Boolean = synchronized(lock) {
        gatt?.readCharacteristic(c) ?: false
    }

    fun later(c: BluetoothGattCharacteristic) {
        scope.launch {
            val started = async(Dispatchers.IO) { gatt?.readCharacteristic(c) == true }
            if (!started.await()) giveUp()
        }
    }

    fun scoped(c: BluetoothGattCharacteristic) {
        val a = gatt?.let { it.readCharacteristic(c) }
        if (a != true) giveUp()
        if (gatt?.run { readCharacteristic(c) } != true) giveUp()
        val b = with(gatt!!) { readCharacteristic(c) }
        require(b) { "not accepted" }
    }

    fun all(all: List<BluetoothGattCharacteristic>): Boolean = all.all { gatt?.setCharacteristicNotification(it, true) == true }

    fun some(all: List<BluetoothGattCharacteristic>) {
        val failed = all.filterNot { gatt?.setCharacteristicNotification(it, true) == true }
        if (failed.isNotEmpty()) giveUp()
    }

    fun counted(all: List<BluetoothGattCharacteristic>) {
        if (all.map { gatt?.setCharacteristicNotification(it, true) == true }.any { !it }) giveUp()
    }

    private fun giveUp() = gatt?.disconnect()
}
