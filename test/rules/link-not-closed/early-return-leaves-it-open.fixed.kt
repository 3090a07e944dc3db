package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.util.concurrent.CountDownLatch
import java.util.concurrent.TimeUnit

/** The time-out comes back before the link is closed. */
class BlockingWeigher(private val context: Context, private val callback: BluetoothGattCallback, private val weighed: CountDownLatch) {
    fun weigh(device: BluetoothDevice): Boolean {
        val gatt = device.connectGatt(context, false, callback) ?: return false
        if (!weighed.await(20, TimeUnit.SECONDS)) {
            gatt.close()
            return false
        }
        gatt.close()
        return true
    }
}
