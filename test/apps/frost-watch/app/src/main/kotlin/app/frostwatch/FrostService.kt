package app.frostwatch

import android.app.Service
import android.bluetooth.BluetoothManager
import android.content.Context
import android.content.Intent
import android.os.Binder
import android.os.Handler
import android.os.IBinder
import android.os.Looper

/** Keeps the link to the sensor through the night, whether anybody looks or not. */
class FrostService : Service(), FrostLink.Listener {

    inner class Access : Binder() {
        fun watch(watcher: (Readings, String) -> Unit) {
            this@FrostService.watcher = watcher
            watcher(readings, message)
        }

        fun leave() {
            watcher = null
        }

        fun setAlarm(degrees: Double): Boolean = link.setAlarm(degrees)
    }

    private val handler = Handler(Looper.getMainLooper())
    private val reconnect = Runnable { connect() }
    private lateinit var link: FrostLink

    private var address: String? = null
    private var failures = 0
    private var readings = Readings()
    private var message = ""
    private var watcher: ((Readings, String) -> Unit)? = null

    override fun onCreate() {
        super.onCreate()
        link = FrostLink(applicationContext, handler, this)
    }

    override fun onStartCommand(intent: Intent?, flags: Int, startId: Int): Int {
        val wanted = intent?.getStringExtra(EXTRA_ADDRESS) ?: return START_REDELIVER_INTENT
        if (wanted == address) return START_REDELIVER_INTENT
        address = wanted
        failures = 0
        connect()
        return START_REDELIVER_INTENT
    }

    override fun onBind(intent: Intent?): IBinder = Access()

    override fun onDestroy() {
        handler.removeCallbacks(reconnect)
        link.close()
        super.onDestroy()
    }

    private fun connect() {
        handler.removeCallbacks(reconnect)
        val adapter = (getSystemService(Context.BLUETOOTH_SERVICE) as BluetoothManager).adapter
        val target = address
        if (adapter == null || target == null) {
            stopSelf()
            return
        }
        say("Connecting …")
        link.open(adapter.getRemoteDevice(target))
    }

    override fun onReady() {
        failures = 0
        say("Watching")
    }

    override fun onReadings(readings: Readings) {
        this.readings = readings
        watcher?.invoke(readings, message)
    }

    /** Waits longer after each failure, half an hour at most. */
    override fun onLost(reason: String) {
        failures++
        val pause = (FIRST_PAUSE_MS shl failures.coerceAtMost(7)).coerceAtMost(LAST_PAUSE_MS)
        say("No contact ($reason), next try in ${pause / 1000} s")
        handler.postDelayed(reconnect, pause)
    }

    private fun say(what: String) {
        message = what
        watcher?.invoke(readings, what)
    }

    companion object {
        const val EXTRA_ADDRESS = "app.frostwatch.extra.ADDRESS"
        private const val FIRST_PAUSE_MS = 5_000L
        private const val LAST_PAUSE_MS = 1_800_000L
    }
}
