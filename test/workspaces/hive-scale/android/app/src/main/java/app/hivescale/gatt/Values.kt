package app.hivescale.gatt

import java.util.Locale

/** Everything the scale sends is little-endian. */

data class Weight(val grams: Int, val stable: Boolean)

/** A probe that is not plugged in sends the lowest value. */
private const val NO_PROBE = Short.MIN_VALUE.toInt()

fun ByteArray.weight(): Weight? {
    if (size < 5) return null
    return Weight(grams = int32(0), stable = (this[4].toInt() and 0x01) != 0)
}

/** Degrees Celsius; null where no probe answers. */
fun ByteArray.frameTemperature(): Double? {
    if (size < 2) return null
    val raw = int16(0)
    return if (raw == NO_PROBE) null else raw / 16.0
}

/** Temperature 0x2A6E: hundredths of a degree. */
fun ByteArray.celsius(): Double? = if (size < 2) null else int16(0) / 100.0

/** Humidity 0x2A6F: hundredths of a percent. */
fun ByteArray.relativeHumidity(): Double? = if (size < 2) null else uint16(0) / 100.0

fun ByteArray.batteryPercent(): Int? = firstOrNull()?.let { (it.toInt() and 0xff).coerceAtMost(100) }

/** Newtons on one corner, before the temperature correction. */
fun ByteArray.cornerLoad(): Double? = if (size < 4) null else int32(0) / 1000.0

enum class Alarm(val code: Int) {
    NONE(0),
    TILT(1),
    SUDDEN_LOSS(2),
    BATTERY_LOW(3);

    companion object {
        fun of(value: ByteArray): Alarm = entries.firstOrNull { it.code == value.firstOrNull()?.toInt() } ?: NONE
    }
}

fun formatWeight(weight: Weight): String {
    val text = String.format(Locale.ROOT, "%.2f kg", weight.grams / 1000.0)
    return if (weight.stable) text else "~$text"
}

internal fun ByteArray.uint16(at: Int): Int =
    (this[at].toInt() and 0xff) or ((this[at + 1].toInt() and 0xff) shl 8)

internal fun ByteArray.int16(at: Int): Int = uint16(at).toShort().toInt()

internal fun ByteArray.int32(at: Int): Int = uint16(at) or (uint16(at + 2) shl 16)

internal fun Int.toLittleEndian(bytes: Int): ByteArray = ByteArray(bytes) { (this ushr (8 * it)).toByte() }
