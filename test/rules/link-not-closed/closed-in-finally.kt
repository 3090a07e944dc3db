package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import java.util.concurrent.CountDownLatch
import java.util.concurrent.TimeUnit

class BlockingWeigher(private val context: Context, private val callback: BluetoothGattCallback, private val weighed: CountDownLatch) {
    fun weigh(device: BluetoothDevice): Boolean {
        val gatt = device.connectGatt(context, false, callback) ?: return false
        try {
            return weighed.await(20, TimeUnit.SECONDS)
        } finally {
            gatt.disconnect()
            gatt.close()
        }
    }
}
