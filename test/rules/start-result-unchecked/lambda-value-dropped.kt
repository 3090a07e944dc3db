import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.os.Handler
import android.os.Looper
import java.util.concurrent.Executors
import java.util.concurrent.TimeUnit
import kotlin.concurrent.thread
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.Dispatchers
import kotlinx.coroutines.launch
import kotlinx.coroutines.sync.Mutex
import kotlinx.coroutines.sync.withLock
import kotlinx.coroutines.withContext

class Lambdas(private val scope: CoroutineScope) {
    private var gatt: BluetoothGatt? = null
    private val handler = Handler(Looper.getMainLooper())
    private val executor = Executors.newSingleThreadScheduledExecutor()
    private val mutex = Mutex()
    private val lock = Any()

    fun posted(c: BluetoothGattCharacteristic) {
        handler.post { gatt?.readCharacteristic(c) } //! start-result-unchecked warning
        handler.postDelayed({ gatt?.readCharacteristic(c) }, 100) //! start-result-unchecked warning
        handler.post(Runnable { gatt?.readCharacteristic(c) }) //! start-result-unchecked warning
    }

    fun threads(c: BluetoothGattCharacteristic) {
        thread { gatt?.readCharacteristic(c) } //! start-result-unchecked warning
        executor.execute { gatt?.readCharacteristic(c) } //! start-result-unchecked warning
        executor.schedule({ gatt?.readCharacteristic(c) }, 1, TimeUnit.SECONDS) //! start-result-unchecked warning
    }

    fun coroutines(c: BluetoothGattCharacteristic) {
        scope.launch { gatt?.readCharacteristic(c) } //! start-result-unchecked warning
    }

    suspend fun suspended(c: BluetoothGattCharacteristic) {
        withContext(Dispatchers.IO) { gatt?.readCharacteristic(c) } //! start-result-unchecked warning
        mutex.withLock { gatt?.readCharacteristic(c) } //! start-result-unchecked warning
        return
    }

    fun scoped(c: BluetoothGattCharacteristic) {
        gatt?.let { it.readCharacteristic(c) } //! start-result-unchecked warning
        gatt?.run { readCharacteristic(c) } //! start-result-unchecked warning
        gatt?.apply { readCharacteristic(c) } //! start-result-unchecked warning
        gatt?.also { it.readCharacteristic(c) } //! start-result-unchecked warning
        synchronized(lock) { gatt?.readCharacteristic(c) } //! start-result-unchecked warning
        with(gatt!!) {
            readCharacteristic(c) //! start-result-unchecked warning
        }
    }

    fun each(all: List<BluetoothGattCharacteristic>) {
        all.forEach { gatt?.setCharacteristicNotification(it, true) } //! start-result-unchecked warning
        all.onEach { gatt?.setCharacteristicNotification(it, true) } //! start-result-unchecked warning
        all.map { gatt?.setCharacteristicNotification(it, true) } //! start-result-unchecked warning
    }
}
