package camplights

import android.app.Service
import android.bluetooth.BluetoothManager
import android.content.Context
import android.content.Intent
import android.os.Binder
import android.os.Handler
import android.os.HandlerThread
import android.os.IBinder
import android.os.Looper

/** What the machine has to say; called on its thread. */
interface LightEvents {
    fun onState(words: String)
    fun onBrightness(levels: List<Int>)
    fun onButton(code: Byte)
    fun onGivenUp(command: Command, why: String)
}

/** Holds the machine and its thread for as long as some screen is bound. */
class LightService : Service(), LightEvents {

    inner class Lights : Binder() {
        var watcher: ((String, List<Int>) -> Unit)? = null

        fun connect(address: String) {
            machine?.start(address)
        }

        fun dim(lamp: Int, percent: Int) {
            levels = levels.mapIndexed { i, level -> if (i == lamp) percent else level }
            machine?.send(brightness(levels))
        }

        fun play(program: Program) {
            machine?.send(program(program))
        }
    }

    private val main = Handler(Looper.getMainLooper())
    private val lights = Lights()
    private lateinit var thread: HandlerThread
    private var machine: LightMachine? = null

    @Volatile
    private var levels: List<Int> = List(LAMPS) { 0 }

    @Volatile
    private var words = ""

    override fun onCreate() {
        super.onCreate()
        thread = HandlerThread("lights").apply { start() }
        val adapter = (getSystemService(Context.BLUETOOTH_SERVICE) as BluetoothManager).adapter ?: return
        machine = LightMachine(applicationContext, adapter, thread.looper, this)
    }

    override fun onBind(intent: Intent?): IBinder = lights

    override fun onDestroy() {
        machine?.shutDown()
        machine = null
        thread.quitSafely()
        super.onDestroy()
    }

    override fun onState(words: String) {
        this.words = words
        show()
    }

    override fun onBrightness(levels: List<Int>) {
        this.levels = levels
        show()
    }

    /** The button on the cable: one press for the next program, a long one for darkness. */
    override fun onButton(code: Byte) {
        machine?.send(if (code == LONG) brightness(emptyList()) else program(Program.CANDLE))
    }

    override fun onGivenUp(command: Command, why: String) = onState("Did not work: $why")

    private fun show() {
        main.post { lights.watcher?.invoke(words, levels) }
    }

    private companion object {
        const val LONG: Byte = 2
    }
}
