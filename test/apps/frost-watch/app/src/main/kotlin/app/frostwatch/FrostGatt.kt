package app.frostwatch

import java.util.UUID

/** What the sensor in the orchard offers. */
object FrostGatt {
    val SERVICE: UUID = UUID.fromString("85366b70-f482-410d-b7b6-df8a40c4ea0f")

    /** Air temperature beside the sensor, hundredths of a degree, every ten seconds. */
    val AIR: UUID = UUID.fromString("85366b71-f482-410d-b7b6-df8a40c4ea0f")

    /** Below this temperature the sensor blinks; hundredths of a degree. */
    val ALARM_BELOW: UUID = UUID.fromString("85366b72-f482-410d-b7b6-df8a40c4ea0f")

    val BATTERY_SERVICE: UUID = UUID.fromString("0000180f-0000-1000-8000-00805f9b34fb")
    val BATTERY_LEVEL: UUID = UUID.fromString("00002a19-0000-1000-8000-00805f9b34fb")

    val CCCD: UUID = UUID.fromString("00002902-0000-1000-8000-00805f9b34fb")
}
