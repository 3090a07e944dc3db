package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattService
import java.util.UUID

/** Oldest release 5.0: fifteen. Each sum is worked out by hand. */
class Sums(private val gatt: BluetoothGatt, private val service: BluetoothGattService) {
    /** 5 entries + 6 probes + 4 cells = 15. */
    fun fifteen() {
        Channel.entries.forEach { listenTo(it.uuid) }
        for (probe in PROBES) listenTo(probe)
        for ((cell, _) in CELLS) listenTo(cell)
    }

    /** 5 + 6 + 4 + 2 extras = 17: the extras are the sixteenth and seventeenth. */
    fun seventeen() {
        fifteen()
        EXTRAS.forEach { extra -> listenTo(extra.uuid) } //! notify-over-limit warning
    }

    /** Again the same fifteen: they cost nothing. */
    fun fifteenTwice() {
        fifteen()
        fifteen()
        PROBES.mapNotNull { service.getCharacteristic(it) }.forEach { check(gatt.setCharacteristicNotification(it, true)) }
    }

    /** 15 - 6 given back + 2 = 11. */
    fun givenBack() {
        fifteen()
        for (probe in PROBES) gatt.setCharacteristicNotification(service.getCharacteristic(probe), false)
        EXTRAS.forEach { listenTo(it.uuid) }
    }

    /** Either 5 + 6 or 4 + 2, never all; then 6 more that may be the same. */
    fun oneOrTheOther(all: Boolean) {
        if (all) {
            Channel.entries.forEach { listenTo(it.uuid) }
            for (probe in PROBES) listenTo(probe)
        } else {
            CELLS.keys.forEach { listenTo(it) }
            EXTRAS.forEach { listenTo(it.uuid) }
        }
        PROBES.forEach { listenTo(it) }
    }

    /** 15, and how many of the extras are wanted nobody knows. */
    fun perhapsMore(wanted: Set<String>) {
        fifteen()
        for (extra in EXTRAS) if (extra.name in wanted) listenTo(extra.uuid)
    }

    /** 4 maps' keys + 5 + 6 + 1 = 16, by the flag of a helper. */
    fun byFlag() {
        CELLS.forEach { (uuid, _) -> turn(service.getCharacteristic(uuid), true) }
        Channel.values().forEach { turn(service.getCharacteristic(it.uuid)) }
        PROBES.forEach { turn(service.getCharacteristic(it)) }
        turn(service.getCharacteristic(EXTRAS[0].uuid), on = false)
        turn(service.getCharacteristic(EXTRAS[0].uuid), on = true) //! notify-over-limit warning
    }

    private fun turn(characteristic: BluetoothGattCharacteristic, on: Boolean = true) {
        if (!gatt.setCharacteristicNotification(characteristic, on)) throw IllegalStateException("refused")
    }

    private fun listenTo(uuid: UUID) {
        val characteristic = service.getCharacteristic(uuid) ?: return
        check(gatt.setCharacteristicNotification(characteristic, true))
    }
}
