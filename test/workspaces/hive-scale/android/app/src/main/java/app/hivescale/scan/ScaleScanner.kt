@file:Suppress("MissingPermission")

package app.hivescale.scan

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothManager
import android.bluetooth.le.BluetoothLeScanner
import android.bluetooth.le.ScanCallback
import android.bluetooth.le.ScanFilter
import android.bluetooth.le.ScanResult
import android.bluetooth.le.ScanSettings
import android.content.Context
import android.os.Handler
import android.os.ParcelUuid
import android.util.Log
import app.hivescale.gatt.HiveGatt
import java.util.UUID

/** A scale that was heard, with the strongest signal so far. */
data class FoundScale(val device: BluetoothDevice, val name: String, val rssi: Int)

/** Looks for scales, or for bootloaders, for a few seconds. */
class ScaleScanner(context: Context, private val handler: Handler, private val listener: Listener) {

    interface Listener {
        fun onFound(scales: List<FoundScale>)
        fun onScanEnded(problem: String?)
    }

    private val manager = context.getSystemService(Context.BLUETOOTH_SERVICE) as BluetoothManager
    private val found = LinkedHashMap<String, FoundScale>()
    private var scanner: BluetoothLeScanner? = null

    private val timeout = Runnable { stop() }

    fun startScan(service: UUID = HiveGatt.HIVE_SERVICE): Boolean {
        if (scanner != null) return true
        val le = manager.adapter?.bluetoothLeScanner
        if (le == null) {
            listener.onScanEnded("Bluetooth is off")
            return false
        }
        found.clear()
        scanner = le
        val filters = listOf(ScanFilter.Builder().setServiceUuid(ParcelUuid(service)).build())
        val settings = ScanSettings.Builder().setScanMode(ScanSettings.SCAN_MODE_LOW_LATENCY).build()
        le.startScan(filters, settings, callback)
        handler.postDelayed(timeout, SCAN_MS)
        return true
    }

    fun stop() {
        if (end()) listener.onScanEnded(null)
    }

    private fun end(): Boolean {
        val le = scanner ?: return false
        handler.removeCallbacks(timeout)
        scanner = null
        // Stopping throws if Bluetooth was switched off meanwhile.
        if (manager.adapter?.isEnabled == true) le.stopScan(callback)
        return true
    }

    private val callback = object : ScanCallback() {

        override fun onScanResult(callbackType: Int, result: ScanResult) {
            val known = found[result.device.address]
            if (known != null && known.rssi >= result.rssi) return
            val name = result.scanRecord?.deviceName ?: known?.name ?: "Scale ${result.device.address.takeLast(5)}"
            found[result.device.address] = FoundScale(result.device, name, result.rssi)
            listener.onFound(found.values.sortedByDescending { it.rssi })
        }

        override fun onScanFailed(errorCode: Int) {
            Log.w(TAG, "scan failed with $errorCode")
            if (end()) listener.onScanEnded("scanning failed ($errorCode)")
        }
    }

    private companion object {
        const val TAG = "ScaleScanner"
        const val SCAN_MS = 12_000L
    }
}
