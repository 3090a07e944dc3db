package app.kilnlog

import android.app.Application
import android.bluetooth.BluetoothDevice
import androidx.lifecycle.AndroidViewModel
import androidx.lifecycle.viewModelScope
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.Job
import kotlinx.coroutines.cancelChildren
import kotlinx.coroutines.flow.MutableStateFlow
import kotlinx.coroutines.flow.StateFlow
import kotlinx.coroutines.flow.first
import kotlinx.coroutines.flow.launchIn
import kotlinx.coroutines.flow.onEach
import kotlinx.coroutines.flow.update
import kotlinx.coroutines.launch
import java.io.IOException

data class Firing(
    val chamber: Double? = null,
    val stage: Stage = Stage.IDLE,
    val schedule: Schedule? = null,
    val firmware: String? = null,
    val message: String? = null,
)

/** One firing on one screen. Whatever becomes of the screen, the kiln is let go when this is cleared. */
class KilnViewModel(application: Application) : AndroidViewModel(application) {

    private val mutable = MutableStateFlow(Firing())
    val firing: StateFlow<Firing> = mutable

    private var kiln: Kiln? = null
    private var session: Job? = null

    fun connect(device: BluetoothDevice) {
        if (session?.isActive == true) return
        session = viewModelScope.launch {
            say("Connecting …")
            try {
                val opened = Kiln.open(getApplication(), device)
                kiln = opened
                follow(opened)
                mutable.update { it.copy(firmware = opened.firmware, schedule = opened.schedule(), message = null) }
                opened.isConnected.first { connected -> !connected }
                say("The kiln is out of reach")
            } catch (e: IOException) {
                say(e.message ?: "No connection")
            } finally {
                coroutineContext.cancelChildren()
                kiln?.close()
                kiln = null
            }
        }
    }

    fun load(schedule: Schedule) {
        val current = kiln ?: return say("Not connected")
        viewModelScope.launch {
            try {
                val loaded = current.load(schedule)
                mutable.update { it.copy(schedule = loaded, message = "Loaded") }
            } catch (e: IOException) {
                say("Not loaded: ${e.message}")
            }
        }
    }

    fun disconnect() {
        session?.cancel()
    }

    override fun onCleared() {
        kiln?.close()
        kiln = null
        super.onCleared()
    }

    private fun CoroutineScope.follow(opened: Kiln) {
        opened.chamber.onEach { degrees -> mutable.update { it.copy(chamber = degrees) } }.launchIn(this)
        opened.stage.onEach { stage -> mutable.update { it.copy(stage = stage) } }.launchIn(this)
    }

    private fun say(message: String) = mutable.update { it.copy(message = message) }
}
