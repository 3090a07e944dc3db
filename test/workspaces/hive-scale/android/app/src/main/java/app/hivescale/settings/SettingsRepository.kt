@file:Suppress("MissingPermission")

package app.hivescale.settings

import app.hivescale.gatt.HiveGatt
import app.hivescale.gatt.Outcome
import app.hivescale.gatt.ScaleLink

/** Reads and writes the settings of the connected scale. The scale asks for a bond on the first access. */
class SettingsRepository(private val link: ScaleLink) {

    private var cached: ScaleSettings? = null

    fun load(done: (ScaleSettings?) -> Unit) {
        val known = cached
        if (known != null) {
            done(known)
            return
        }
        link.queue.enqueue(
            label = "read settings",
            timeoutMs = BOND_TIMEOUT_MS,
            done = { outcome ->
                cached = (outcome as? Outcome.Done)?.let { ScaleSettings.decode(it.value) }
                done(cached)
            },
        ) { gatt ->
            gatt.getService(HiveGatt.SETTINGS_SERVICE)
                ?.getCharacteristic(HiveGatt.SETTINGS)
                ?.let { gatt.readCharacteristic(it) }
            true
        }
    }

    fun loadName(done: (String?) -> Unit) {
        link.queue.enqueue(
            label = "read name",
            timeoutMs = BOND_TIMEOUT_MS,
            done = { outcome ->
                when (outcome) {
                    is Outcome.Done -> done(outcome.value.decodeToString())
                    is Outcome.Failed -> done(null)
                }
            },
        ) { gatt ->
            val name = gatt.getService(HiveGatt.SETTINGS_SERVICE)?.getCharacteristic(HiveGatt.HIVE_NAME)
            name != null && gatt.readCharacteristic(name)
        }
    }

    fun save(settings: ScaleSettings, done: (Boolean) -> Unit) {
        cached = null
        link.write(HiveGatt.SETTINGS_SERVICE, HiveGatt.SETTINGS, settings.encode()) { outcome ->
            if (outcome is Outcome.Done) cached = settings
            done(outcome is Outcome.Done)
        }
    }

    private companion object {
        /** The user may have to find the dialogue first. */
        const val BOND_TIMEOUT_MS = 40_000L
    }
}
