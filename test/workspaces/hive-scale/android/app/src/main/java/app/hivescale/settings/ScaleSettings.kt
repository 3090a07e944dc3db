package app.hivescale.settings

import app.hivescale.gatt.int32
import app.hivescale.gatt.toLittleEndian
import app.hivescale.gatt.uint16

/** How often the scale measures and when it raises an alarm. Eight bytes on the air. */
data class ScaleSettings(
    val intervalSeconds: Int,
    val swarmLossGrams: Int,
    val tiltAlarm: Boolean,
) {
    fun encode(): ByteArray =
        intervalSeconds.toLittleEndian(2) + swarmLossGrams.toLittleEndian(4) + byteArrayOf(if (tiltAlarm) 1 else 0, 0)

    companion object {
        const val SIZE = 8

        fun decode(bytes: ByteArray): ScaleSettings? {
            if (bytes.size < SIZE) return null
            return ScaleSettings(
                intervalSeconds = bytes.uint16(0),
                swarmLossGrams = bytes.int32(2),
                tiltAlarm = bytes[6].toInt() != 0,
            )
        }
    }
}
