package app.frostwatch

/** Everything known of the sensor; a field is null until it was heard. */
data class Readings(
    val air: Double? = null,
    val alarmBelow: Double? = null,
    val battery: Int? = null,
)

/** The sensor sends little-endian; what is too short is no value. */
internal fun ByteArray.hundredths(): Double? {
    if (size < 2) return null
    val raw = (this[0].toInt() and 0xff) or (this[1].toInt() shl 8)
    return raw / 100.0
}

internal fun ByteArray.percent(): Int? = firstOrNull()?.let { (it.toInt() and 0xff).coerceIn(0, 100) }

internal fun hundredthsOf(degrees: Double): ByteArray {
    val raw = Math.round(degrees * 100).toInt().coerceIn(Short.MIN_VALUE.toInt(), Short.MAX_VALUE.toInt())
    return byteArrayOf(raw.toByte(), (raw shr 8).toByte())
}
