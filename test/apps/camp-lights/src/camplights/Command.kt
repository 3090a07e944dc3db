package camplights

import java.util.UUID

val LIGHTS: UUID = UUID.fromString("cd8a0e00-801d-4d22-84f6-d978a5dea1f5")
val BRIGHTNESS: UUID = UUID.fromString("cd8a0e01-801d-4d22-84f6-d978a5dea1f5")
val PROGRAM: UUID = UUID.fromString("cd8a0e02-801d-4d22-84f6-d978a5dea1f5")
val BUTTON: UUID = UUID.fromString("cd8a0e03-801d-4d22-84f6-d978a5dea1f5")
val CCCD: UUID = UUID.fromString("00002902-0000-1000-8000-00805f9b34fb")

enum class Program(val code: Byte) { STEADY(0), CANDLE(1), WAVE(2), SLEEP(3) }

/** What the lights can be told or asked. [attempts] counts how often it was tried. */
sealed class Command {
    var attempts = 0

    /** Replaces a waiting one of the same kind: only the last position of a slider counts. */
    open fun replaces(other: Command): Boolean = false

    class Read(val uuid: UUID) : Command()

    class Listen(val uuid: UUID) : Command()

    class Write(val uuid: UUID, val value: ByteArray) : Command() {
        override fun replaces(other: Command) = other is Write && other.uuid == uuid
    }
}

fun brightness(levels: List<Int>): Command =
    Command.Write(BRIGHTNESS, ByteArray(LAMPS) { lamp -> levels.getOrElse(lamp) { 0 }.coerceIn(0, 100).toByte() })

fun program(program: Program): Command = Command.Write(PROGRAM, byteArrayOf(program.code))

const val LAMPS = 16
