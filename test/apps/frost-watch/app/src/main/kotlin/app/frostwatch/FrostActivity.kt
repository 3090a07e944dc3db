@file:Suppress("MissingPermission")

package app.frostwatch

import android.app.Activity
import android.bluetooth.BluetoothManager
import android.bluetooth.le.BluetoothLeScanner
import android.bluetooth.le.ScanCallback
import android.bluetooth.le.ScanFilter
import android.bluetooth.le.ScanResult
import android.bluetooth.le.ScanSettings
import android.content.ComponentName
import android.content.Context
import android.content.Intent
import android.content.ServiceConnection
import android.os.Bundle
import android.os.IBinder
import android.os.ParcelUuid
import android.view.Menu
import android.view.MenuItem
import android.widget.TextView

/** Shows what the service knows, and finds the sensor the first time. */
class FrostActivity : Activity() {

    private lateinit var readout: TextView
    private var access: FrostService.Access? = null
    private var scanner: BluetoothLeScanner? = null
    private var alarmBelow = 1.0

    private val connection = object : ServiceConnection {
        override fun onServiceConnected(name: ComponentName?, binder: IBinder?) {
            access = (binder as? FrostService.Access)?.also { it.watch(::show) }
        }

        override fun onServiceDisconnected(name: ComponentName?) {
            access = null
        }
    }

    override fun onCreate(savedInstanceState: Bundle?) {
        super.onCreate(savedInstanceState)
        readout = TextView(this)
        setContentView(readout)
    }

    override fun onStart() {
        super.onStart()
        bindService(Intent(this, FrostService::class.java), connection, Context.BIND_AUTO_CREATE)
    }

    override fun onStop() {
        stopScan()
        access?.leave()
        access = null
        unbindService(connection)
        super.onStop()
    }

    override fun onCreateOptionsMenu(menu: Menu): Boolean {
        menu.add(0, FIND, FIND, "Find sensor")
        menu.add(0, WARMER, WARMER, "Alarm half a degree earlier")
        menu.add(0, COLDER, COLDER, "Alarm half a degree later")
        return true
    }

    override fun onOptionsItemSelected(item: MenuItem): Boolean {
        when (item.itemId) {
            FIND -> startScan()
            WARMER -> setAlarm(alarmBelow + 0.5)
            COLDER -> setAlarm(alarmBelow - 0.5)
            else -> return super.onOptionsItemSelected(item)
        }
        return true
    }

    private fun setAlarm(degrees: Double) {
        if (access?.setAlarm(degrees) == true) {
            alarmBelow = degrees
        } else {
            readout.text = "Not just now"
        }
    }

    private fun show(readings: Readings, message: String) {
        readings.alarmBelow?.let { alarmBelow = it }
        readout.text = buildString {
            appendLine(readings.air?.let { "%.1f °C".format(it) } ?: "–")
            appendLine(readings.alarmBelow?.let { "Alarm below %.1f °C".format(it) } ?: "")
            appendLine(readings.battery?.let { "Battery $it %" } ?: "")
            append(message)
        }
    }

    // ---- Finding ----

    private fun startScan() {
        if (scanner != null) return
        val manager = getSystemService(Context.BLUETOOTH_SERVICE) as BluetoothManager
        val le = manager.adapter?.bluetoothLeScanner ?: return
        scanner = le
        val filter = ScanFilter.Builder().setServiceUuid(ParcelUuid(FrostGatt.SERVICE)).build()
        val settings = ScanSettings.Builder().setScanMode(ScanSettings.SCAN_MODE_LOW_LATENCY).build()
        le.startScan(listOf(filter), settings, found)
        readout.text = "Looking for a sensor …"
    }

    private fun stopScan() {
        scanner?.stopScan(found)
        scanner = null
    }

    private val found = object : ScanCallback() {
        override fun onScanResult(callbackType: Int, result: ScanResult) {
            if (scanner == null) return
            stopScan()
            val start = Intent(this@FrostActivity, FrostService::class.java)
            startService(start.putExtra(FrostService.EXTRA_ADDRESS, result.device.address))
        }

        override fun onScanFailed(errorCode: Int) {
            scanner = null
            readout.text = "Scanning failed ($errorCode)"
        }
    }

    private companion object {
        const val FIND = 1
        const val WARMER = 2
        const val COLDER = 3
    }
}
