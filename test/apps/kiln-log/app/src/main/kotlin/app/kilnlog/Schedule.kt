package app.kilnlog

/** One segment of a firing: heat to [target] with [rate] per hour, stay for [hold] minutes. */
data class Segment(val target: Int, val rate: Int, val hold: Int)

data class Schedule(val segments: List<Segment>) {

    fun encode(): ByteArray =
        segments.flatMap { listOf(it.target, it.rate, it.hold) }
            .flatMap { listOf(it.toByte(), (it shr 8).toByte()) }
            .toByteArray()

    companion object {
        const val MOST_SEGMENTS = 3

        val BISQUE = Schedule(listOf(Segment(120, 60, 30), Segment(600, 100, 0), Segment(960, 150, 10)))

        fun decode(bytes: ByteArray): Schedule {
            val numbers = bytes.asList().chunked(2).map { pair -> u16(pair[0], pair.getOrElse(1) { 0 }) }
            return Schedule(numbers.chunked(3).filter { it.size == 3 }.map { (target, rate, hold) -> Segment(target, rate, hold) })
        }
    }
}

enum class Stage { IDLE, HEATING, HOLDING, COOLING }

internal fun u16(low: Byte, high: Byte): Int = (low.toInt() and 0xff) or ((high.toInt() and 0xff) shl 8)
