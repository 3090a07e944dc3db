package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import java.util.concurrent.Semaphore
import java.util.concurrent.TimeUnit

class Worker(private val gatt: BluetoothGatt) : BluetoothGattCallback() {
    private val free = Semaphore(1)

    fun readAll(probes: List<BluetoothGattCharacteristic>) {
        for (probe in probes) {
            free.acquire()
            if (!gatt.readCharacteristic(probe)) free.release()
        }
    }

    fun tare(command: BluetoothGattCharacteristic) {
        if (!free.tryAcquire(2, TimeUnit.SECONDS)) return
        gatt.writeCharacteristic(command)
    }

    override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = free.release()

    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) = free.release()
}
