package app.gardenvalves

import android.app.Activity
import android.bluetooth.BluetoothManager
import android.content.Context
import android.os.Bundle
import android.view.Menu
import android.view.MenuItem
import android.widget.TextView
import app.gardenvalves.ble.ValveBox

/** The beds, the valves, and what was last asked of them. */
class GardenActivity : Activity(), ValveBox.Listener {

    private lateinit var box: ValveBox
    private lateinit var readout: TextView

    private val moisture = sortedMapOf<Int, Int>()
    private var open = BooleanArray(0)
    private var battery: Int? = null
    private var plan: ByteArray? = null

    override fun onCreate(savedInstanceState: Bundle?) {
        super.onCreate(savedInstanceState)
        readout = TextView(this)
        setContentView(readout)
        box = ValveBox(applicationContext, this)
        connect()
    }

    override fun onDestroy() {
        box.close()
        super.onDestroy()
    }

    override fun onCreateOptionsMenu(menu: Menu): Boolean {
        menu.add(0, CONNECT, CONNECT, "Connect")
        repeat(VALVES) { menu.add(1, FIRST_VALVE + it, FIRST_VALVE + it, "Water bed ${it + 1} for ten minutes") }
        menu.add(2, COPY_PLAN, COPY_PLAN, "Keep today’s plan")
        menu.add(2, RESTORE_PLAN, RESTORE_PLAN, "Restore the kept plan")
        return true
    }

    override fun onOptionsItemSelected(item: MenuItem): Boolean {
        when (val id = item.itemId) {
            CONNECT -> connect()
            COPY_PLAN -> box.loadPlan { loaded ->
                plan = loaded
                show(if (loaded == null) "The plan could not be read" else "Plan kept")
            }
            RESTORE_PLAN -> plan?.let { kept -> box.savePlan(kept) { problem -> show(problem ?: "Plan restored") } }
            else -> box.water(id - FIRST_VALVE, MINUTES) { problem -> show(problem ?: "Watering") }
        }
        return true
    }

    private fun connect() {
        val address = getPreferences(Context.MODE_PRIVATE).getString(ADDRESS, null) ?: return show("No box known yet")
        val adapter = (getSystemService(Context.BLUETOOTH_SERVICE) as BluetoothManager).adapter ?: return show("No Bluetooth")
        show("Connecting …")
        box.open(adapter.getRemoteDevice(address))
    }

    override fun onReady() = show("Connected")

    override fun onGone(why: String) = show("Not connected: $why")

    override fun onValves(open: BooleanArray) {
        this.open = open
        show(null)
    }

    override fun onMoisture(bed: Int, percent: Int) {
        moisture[bed] = percent
        show(null)
    }

    override fun onBattery(percent: Int) {
        battery = percent
        show(null)
    }

    private fun show(message: String?) {
        readout.text = buildString {
            for ((bed, percent) in moisture) appendLine("Bed ${bed + 1}: $percent %")
            appendLine(open.indices.filter { open[it] }.joinToString { "valve ${it + 1} runs" })
            battery?.let { appendLine("Battery $it %") }
            if (message != null) append(message)
        }
    }

    private companion object {
        const val CONNECT = 1
        const val COPY_PLAN = 2
        const val RESTORE_PLAN = 3
        const val FIRST_VALVE = 10
        const val VALVES = 4
        const val MINUTES = 10
        const val ADDRESS = "box"
    }
}
