package app.hivescale.ui

import android.bluetooth.BluetoothDevice
import android.content.Context
import android.os.Handler
import android.os.Looper
import app.hivescale.firmware.FirmwareImage
import app.hivescale.firmware.FirmwareUploader
import app.hivescale.gatt.Alarm
import app.hivescale.gatt.Command
import app.hivescale.gatt.HiveGatt
import app.hivescale.gatt.Outcome
import app.hivescale.gatt.ScaleLink
import app.hivescale.gatt.Weight
import app.hivescale.gatt.batteryPercent
import app.hivescale.gatt.celsius
import app.hivescale.gatt.frameTemperature
import app.hivescale.gatt.relativeHumidity
import app.hivescale.gatt.weight
import app.hivescale.scan.FoundScale
import app.hivescale.scan.ScaleScanner
import app.hivescale.settings.ScaleSettings
import app.hivescale.settings.SettingsRepository
import app.hivescale.survey.BroodSurvey
import app.hivescale.survey.CalibrationSession
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.Dispatchers
import kotlinx.coroutines.SupervisorJob
import kotlinx.coroutines.cancel
import kotlinx.coroutines.flow.MutableStateFlow
import kotlinx.coroutines.flow.StateFlow
import kotlinx.coroutines.flow.update
import kotlinx.coroutines.launch
import java.io.File
import java.io.IOException
import java.util.UUID

enum class Phase { IDLE, SCANNING, CONNECTING, LIVE, DEMO }

data class HiveState(
    val phase: Phase = Phase.IDLE,
    val scales: List<FoundScale> = emptyList(),
    val weight: Weight? = null,
    val battery: Int? = null,
    val outside: Double? = null,
    val humidity: Double? = null,
    val firmware: String? = null,
    val frames: Map<Int, Double?> = emptyMap(),
    val rssi: Int? = null,
    val name: String? = null,
    val alarm: Alarm = Alarm.NONE,
    val settings: ScaleSettings? = null,
    val message: String? = null,
)

/** Everything the main screen shows and does. Lives on the main thread; [clear] ends it. */
class HiveViewModel(private val context: Context) : ScaleLink.Listener, ScaleScanner.Listener {

    private val handler = Handler(Looper.getMainLooper())
    private val scope = CoroutineScope(SupervisorJob() + Dispatchers.Main)

    private val link = ScaleLink(context, handler, this)
    private val scanner = ScaleScanner(context, handler, this)
    private val settings = SettingsRepository(link)
    private val uploader = FirmwareUploader(context)
    private val demo = DemoScale(::onValue)

    private var device: BluetoothDevice? = null
    private var survey: BroodSurvey? = null
    private var calibration: CalibrationSession? = null

    private val mutable = MutableStateFlow(HiveState())
    val state: StateFlow<HiveState> = mutable

    private val signalTick = object : Runnable {
        override fun run() {
            link.refreshSignal()
            handler.postDelayed(this, SIGNAL_MS)
        }
    }

    init {
        scope.launch {
            uploader.state.collect { upload ->
                when (upload) {
                    FirmwareUploader.State.Idle -> Unit
                    is FirmwareUploader.State.Sending -> say("Firmware: ${upload.percent} %")
                    is FirmwareUploader.State.Finished -> say("Firmware ${upload.version} installed")
                    is FirmwareUploader.State.Failed -> say("Firmware: ${upload.reason}")
                }
            }
        }
    }

    fun scan() {
        link.close()
        mutable.value = HiveState(phase = Phase.SCANNING)
        scanner.startScan()
    }

    fun connect(scale: FoundScale) {
        scanner.stop()
        device = scale.device
        mutable.update { it.copy(phase = Phase.CONNECTING, message = "Connecting to ${scale.name}") }
        link.open(scale.device)
    }

    fun disconnect() {
        handler.removeCallbacks(signalTick)
        link.disconnect()
    }

    fun refresh() {
        when (mutable.value.phase) {
            Phase.DEMO -> {
                demo.readCharacteristic(HiveGatt.WEIGHT)
                demo.readCharacteristic(HiveGatt.BATTERY_LEVEL)
                demo.readCharacteristic(HiveGatt.TEMPERATURE)
            }
            Phase.LIVE -> if (!link.readNow(HiveGatt.HIVE_SERVICE, HiveGatt.WEIGHT)) say("Not just now")
            else -> Unit
        }
    }

    fun startDemo() {
        link.close()
        demo.connect()
        mutable.value = HiveState(phase = Phase.DEMO)
        refresh()
    }

    fun tare() = command(Command.TARE, "Zeroed")

    fun identify() = command(Command.IDENTIFY, "Look for the blinking scale")

    private fun command(code: ByteArray, success: String) {
        link.write(HiveGatt.HIVE_SERVICE, HiveGatt.COMMAND, code) { outcome ->
            when (outcome) {
                is Outcome.Done -> say(success)
                is Outcome.Failed -> say("Not done: ${outcome.reason}")
            }
        }
    }

    fun changeInterval(seconds: Int) {
        val old = mutable.value.settings ?: return
        settings.save(old.copy(intervalSeconds = seconds)) { saved ->
            if (saved) mutable.update { it.copy(settings = old.copy(intervalSeconds = seconds)) }
            say(if (saved) "Saved" else "The scale kept its old settings")
        }
    }

    fun startSurvey() {
        val target = device ?: return
        link.close()
        survey = BroodSurvey(context, handler) { result ->
            val frames = result.broodFrames().joinToString { (it + 1).toString() }
            say("Brood on frames $frames" + if ((result.imbalance() ?: 0.0) > 0.4) ", and the hive stands crooked" else "")
            if (result.loudest > SINGING) say("This hive is getting ready to swarm")
            survey = null
        }
        survey?.start(target)
    }

    fun startCalibration() {
        val target = device ?: return
        link.close()
        calibration?.end()
        val session = CalibrationSession(context) { corner, newton ->
            say("Corner ${corner + 1}: $newton N" + if (calibration?.complete == true) "" else " (not all corners answer)")
        }
        session.begin(target)
        calibration = session
    }

    /** Installs what the last synchronisation has downloaded. */
    fun updateFirmware(careful: Boolean) {
        val target = device ?: return
        val image = try {
            FirmwareImage.parse(File(context.filesDir, FIRMWARE_FILE).readBytes())
        } catch (e: IOException) {
            say("No firmware was downloaded")
            return
        } catch (e: IllegalArgumentException) {
            say(e.message ?: "not a firmware file")
            return
        }
        if (!link.reboot()) {
            say("The scale did not restart")
            return
        }
        scope.launch { uploader.upload(target, image, careful) }
    }

    /** To be called when the screen goes for good. */
    fun clear() {
        handler.removeCallbacks(signalTick)
        scanner.stop()
        survey?.stop()
        calibration?.end()
        link.close()
        scope.cancel()
    }

    private fun say(text: String) {
        mutable.update { it.copy(message = text) }
    }

    // ---- From the scanner ----

    override fun onFound(scales: List<FoundScale>) {
        mutable.update { it.copy(scales = scales) }
    }

    override fun onScanEnded(problem: String?) {
        mutable.update { if (it.phase == Phase.SCANNING) it.copy(phase = Phase.IDLE, message = problem) else it }
    }

    // ---- From the link ----

    override fun onReady() {
        mutable.update { it.copy(phase = Phase.LIVE, message = null) }
        link.read(HiveGatt.BATTERY_SERVICE, HiveGatt.BATTERY_LEVEL)
        link.read(HiveGatt.HIVE_SERVICE, HiveGatt.WEIGHT)
        link.read(HiveGatt.ENVIRONMENT_SERVICE, HiveGatt.HUMIDITY)
        link.read(HiveGatt.DEVICE_INFORMATION, HiveGatt.FIRMWARE_REVISION)
        link.startLive()
        settings.load { loaded -> mutable.update { it.copy(settings = loaded) } }
        settings.loadName { name -> mutable.update { it.copy(name = name) } }
        handler.post(signalTick)
    }

    override fun onValue(uuid: UUID, value: ByteArray) {
        val frame = HiveGatt.FRAME_PROBES.indexOf(uuid)
        mutable.update {
            when {
                frame >= 0 -> it.copy(frames = it.frames + (frame to value.frameTemperature()))
                uuid == HiveGatt.WEIGHT -> it.copy(weight = value.weight() ?: it.weight)
                uuid == HiveGatt.BATTERY_LEVEL -> it.copy(battery = value.batteryPercent())
                uuid == HiveGatt.TEMPERATURE -> it.copy(outside = value.celsius())
                uuid == HiveGatt.HUMIDITY -> it.copy(humidity = value.relativeHumidity())
                uuid == HiveGatt.FIRMWARE_REVISION -> it.copy(firmware = value.decodeToString())
                uuid == HiveGatt.ALARM -> it.copy(alarm = Alarm.of(value))
                else -> it
            }
        }
    }

    override fun onSignal(rssi: Int) {
        mutable.update { it.copy(rssi = rssi) }
    }

    override fun onClosed(reason: String) {
        handler.removeCallbacks(signalTick)
        mutable.update { it.copy(phase = Phase.IDLE, rssi = null, message = reason) }
    }

    private companion object {
        const val SINGING = 200
        const val SIGNAL_MS = 5_000L
        const val FIRMWARE_FILE = "scale.hfw"
    }
}
