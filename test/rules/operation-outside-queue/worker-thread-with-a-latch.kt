package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import java.util.concurrent.CountDownLatch
import java.util.concurrent.Executors
import java.util.concurrent.TimeUnit

class Worker(private val gatt: BluetoothGatt) : BluetoothGattCallback() {
    private val executor = Executors.newSingleThreadExecutor()
    @Volatile private var answered = CountDownLatch(1)

    fun read(characteristic: BluetoothGattCharacteristic) {
        executor.execute {
            answered = CountDownLatch(1)
            if (gatt.readCharacteristic(characteristic)) answered.await(5, TimeUnit.SECONDS)
        }
    }

    fun readAll(probes: List<BluetoothGattCharacteristic>) = probes.forEach { read(it) }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = answered.countDown()
}
