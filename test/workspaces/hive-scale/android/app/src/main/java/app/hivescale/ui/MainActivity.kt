package app.hivescale.ui

import android.Manifest
import android.app.Activity
import android.content.Intent
import android.content.pm.PackageManager
import android.os.Build
import android.os.Bundle
import android.view.Menu
import android.view.MenuItem
import android.widget.TextView
import app.hivescale.gatt.Alarm
import app.hivescale.gatt.formatWeight
import app.hivescale.snapshot.Snapshot
import app.hivescale.snapshot.SnapshotService
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.Dispatchers
import kotlinx.coroutines.SupervisorJob
import kotlinx.coroutines.cancel
import kotlinx.coroutines.launch

/** One page of text and a menu: readable with gloves on and the sun behind you. */
class MainActivity : Activity() {

    private val scope = CoroutineScope(SupervisorJob() + Dispatchers.Main)
    private lateinit var model: HiveViewModel
    private lateinit var readout: TextView
    private var snapshot: Snapshot? = null

    override fun onCreate(savedInstanceState: Bundle?) {
        super.onCreate(savedInstanceState)
        readout = TextView(this)
        setContentView(readout)
        model = HiveViewModel(applicationContext)
        scope.launch { model.state.collect(::show) }
        SnapshotService.latest = { snapshot = it; show(model.state.value) }
        if (!permitted()) requestPermissions(needed(), REQUEST_PERMISSIONS)
    }

    override fun onDestroy() {
        SnapshotService.latest = null
        scope.cancel()
        model.clear()
        super.onDestroy()
    }

    override fun onCreateOptionsMenu(menu: Menu): Boolean {
        Action.entries.forEach { menu.add(0, it.ordinal, it.ordinal, it.title) }
        return true
    }

    override fun onOptionsItemSelected(item: MenuItem): Boolean {
        val action = Action.entries.getOrNull(item.itemId) ?: return super.onOptionsItemSelected(item)
        if (!permitted()) {
            requestPermissions(needed(), REQUEST_PERMISSIONS)
            return true
        }
        val nearest = model.state.value.scales.firstOrNull()
        when (action) {
            Action.SCAN -> model.scan()
            Action.CONNECT -> if (nearest != null) model.connect(nearest)
            Action.SNAPSHOT -> if (nearest != null) startService(
                Intent(this, SnapshotService::class.java)
                    .putExtra(SnapshotService.EXTRA_ADDRESS, nearest.device.address),
            )
            Action.REFRESH -> model.refresh()
            Action.TARE -> model.tare()
            Action.IDENTIFY -> model.identify()
            Action.EVERY_MINUTE -> model.changeInterval(60)
            Action.SURVEY -> model.startSurvey()
            Action.CALIBRATE -> model.startCalibration()
            Action.FIRMWARE -> model.updateFirmware(careful = false)
            Action.DEMO -> model.startDemo()
            Action.DISCONNECT -> model.disconnect()
        }
        return true
    }

    private fun show(state: HiveState) {
        readout.text = buildString {
            state.name?.let { appendLine(it) }
            appendLine(state.message ?: state.phase.name.lowercase())
            state.scales.forEach { appendLine("${it.name}  ${it.rssi} dBm") }
            state.weight?.let { appendLine(formatWeight(it)) }
            state.outside?.let { appendLine("outside $it °C, ${state.humidity ?: "-"} %") }
            state.battery?.let { appendLine("battery $it %") }
            state.rssi?.let { appendLine("signal $it dBm") }
            state.frames.toSortedMap().forEach { (frame, degrees) ->
                appendLine("frame ${frame + 1}: ${degrees ?: "-"}")
            }
            state.firmware?.let { appendLine("firmware $it") }
            if (state.alarm != Alarm.NONE) appendLine("ALARM: ${state.alarm}")
            snapshot?.let { appendLine("last visit: ${it.weight?.grams} g, ${it.battery} %") }
        }
    }

    private fun needed(): Array<String> =
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.S) {
            arrayOf(Manifest.permission.BLUETOOTH_SCAN, Manifest.permission.BLUETOOTH_CONNECT)
        } else {
            arrayOf(Manifest.permission.ACCESS_FINE_LOCATION)
        }

    private fun permitted(): Boolean = needed().all { checkSelfPermission(it) == PackageManager.PERMISSION_GRANTED }

    private enum class Action(val title: String) {
        SCAN("Look for scales"),
        CONNECT("Connect"),
        SNAPSHOT("Quick visit"),
        REFRESH("Refresh"),
        TARE("Zero"),
        IDENTIFY("Blink"),
        EVERY_MINUTE("Measure every minute"),
        SURVEY("Brood survey"),
        CALIBRATE("Calibrate corners"),
        FIRMWARE("Install firmware"),
        DEMO("Demo"),
        DISCONNECT("Disconnect"),
    }

    private companion object {
        const val REQUEST_PERMISSIONS = 1
    }
}
