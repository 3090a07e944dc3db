package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import android.os.Handler
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.delay
import kotlinx.coroutines.launch

/** Closed by a watchdog, in a coroutine after a grace period, when the job ends, by the collector of garbage. */
class Links(private val context: Context, private val handler: Handler, private val scope: CoroutineScope, private val callback: BluetoothGattCallback) {
    private var watched: BluetoothGatt? = null
    private var graced: BluetoothGatt? = null
    private var ofJob: BluetoothGatt? = null
    private var forgotten: BluetoothGatt? = null

    private val watchdog = Runnable { watched?.close() }

    fun watch(device: BluetoothDevice) {
        if (watched != null) return
        watched = device.connectGatt(context, false, callback)
        handler.postDelayed(watchdog, 30_000)
    }

    fun leave(device: BluetoothDevice) {
        if (graced != null) return
        graced = device.connectGatt(context, false, callback)
        scope.launch {
            delay(30_000)
            graced?.disconnect()
            delay(200)
            graced?.close()
        }
    }

    fun whileRunning(device: BluetoothDevice) {
        if (ofJob != null) return
        ofJob = device.connectGatt(context, false, callback)
        scope.launch { delay(60_000) }.invokeOnCompletion { ofJob?.close() }
    }

    fun untilForgotten(device: BluetoothDevice) {
        if (forgotten == null) forgotten = device.connectGatt(context, false, callback)
    }

    protected fun finalize() {
        forgotten?.close()
    }
}
