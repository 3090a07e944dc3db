package hive

import android.bluetooth.BluetoothGatt
import java.util.UUID

/** Eleven on one client and six on the other; they do not add up. */
class TwoScales(private val left: BluetoothGatt, private val right: BluetoothGatt) {
    fun listen(service: UUID) {
        Channel.entries.forEach { left.listenTo(service, it.uuid) }
        for (probe in PROBES) left.listenTo(service, probe)
        for (cell in CELLS.keys) right.listenTo(service, cell)
        for (extra in EXTRAS) right.listenTo(service, extra.uuid)
    }

    /** 5 + 6 + 4 + 2 = 17 on the left one. */
    fun everythingOnOne(service: UUID) {
        Channel.entries.forEach { left.listenTo(service, it.uuid) }
        for (probe in PROBES) left.listenTo(service, probe)
        for (cell in CELLS.keys) left.listenTo(service, cell)
        for (extra in EXTRAS) left.listenTo(service, extra.uuid) //! notify-over-limit warning
    }

    private fun BluetoothGatt.listenTo(service: UUID, uuid: UUID) {
        val characteristic = getService(service)?.getCharacteristic(uuid) ?: return
        check(setCharacteristicNotification(characteristic, true))
    }
}

/** Each scale has its own client, and so its own fifteen. */
class Scale(private val gatt: BluetoothGatt) {
    fun listen(service: UUID, uuids: Collection<UUID>) {
        for (uuid in uuids) {
            val characteristic = gatt.getService(service)?.getCharacteristic(uuid) ?: continue
            check(gatt.setCharacteristicNotification(characteristic, true))
        }
    }

    fun first(service: UUID) = PROBES.forEach { one(service, it) }

    fun second(service: UUID) {
        Channel.entries.forEach { one(service, it.uuid) }
        CELLS.keys.forEach { one(service, it) }
        EXTRAS.forEach { one(service, it.uuid) }
    }

    private fun one(service: UUID, uuid: UUID) {
        val characteristic = gatt.getService(service)?.getCharacteristic(uuid) ?: return
        check(gatt.setCharacteristicNotification(characteristic, true))
    }
}

/** 6 on one and 11 on the other; 17 on the same. */
fun both(left: Scale, right: Scale, service: UUID) {
    left.first(service)
    right.second(service)
}

fun same(scale: Scale, service: UUID) {
    scale.first(service)
    scale.second(service) //! notify-over-limit warning
}
