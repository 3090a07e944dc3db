package app.kilnlog

import java.util.UUID

internal object KilnGatt {
    val KILN: UUID = UUID.fromString("daa69300-b060-45d3-963b-87fb26d9604a")

    /** Tenths of a degree, once a second. */
    val CHAMBER: UUID = UUID.fromString("daa69301-b060-45d3-963b-87fb26d9604a")

    /** 0 idle, 1 heating, 2 holding, 3 cooling. */
    val STAGE: UUID = UUID.fromString("daa69302-b060-45d3-963b-87fb26d9604a")

    /** Segments of six bytes: target, rate, hold. */
    val SCHEDULE: UUID = UUID.fromString("daa69303-b060-45d3-963b-87fb26d9604a")

    val DEVICE_INFORMATION: UUID = UUID.fromString("0000180a-0000-1000-8000-00805f9b34fb")
    val FIRMWARE_REVISION: UUID = UUID.fromString("00002a26-0000-1000-8000-00805f9b34fb")

    val CCCD: UUID = UUID.fromString("00002902-0000-1000-8000-00805f9b34fb")
}
