package app.hivescale.ui

import app.hivescale.gatt.HiveGatt
import app.hivescale.gatt.toLittleEndian
import java.util.UUID
import kotlin.math.sin

/** Stands in for a scale at fairs and in screenshots. Speaks like the real one but needs no Bluetooth. */
class DemoScale(private val deliver: (UUID, ByteArray) -> Unit) {

    private var step = 0

    fun connect(): Boolean {
        step = 0
        return true
    }

    /** Invents a value; false for what the demo does not know. */
    fun readCharacteristic(uuid: UUID): Boolean {
        step++
        val value = when (uuid) {
            HiveGatt.WEIGHT -> (38_400 + (120 * sin(step / 9.0)).toInt()).toLittleEndian(4) + byteArrayOf(1)
            HiveGatt.BATTERY_LEVEL -> byteArrayOf(87)
            HiveGatt.TEMPERATURE -> (2_150 + step % 40).toLittleEndian(2)
            in HiveGatt.FRAME_PROBES -> (16 * (28 + HiveGatt.FRAME_PROBES.indexOf(uuid) % 5)).toLittleEndian(2)
            else -> return false
        }
        deliver(uuid, value)
        return true
    }
}
