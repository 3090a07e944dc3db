package app.gardenvalves.ble

import java.util.UUID

/** The attributes of the box; see garden-valves.device.yaml. */
internal object ValveGatt {
    val VALVES: UUID = UUID.fromString("067b6d00-9b9c-44ec-adce-d88fea16acd2")
    val COMMAND: UUID = UUID.fromString("067b6d01-9b9c-44ec-adce-d88fea16acd2")
    val STATE: UUID = UUID.fromString("067b6d02-9b9c-44ec-adce-d88fea16acd2")
    val PLAN: UUID = UUID.fromString("067b6d03-9b9c-44ec-adce-d88fea16acd2")

    val MOISTURE: UUID = UUID.fromString("067b6d10-9b9c-44ec-adce-d88fea16acd2")

    /** One probe in each bed, in the order of the beds. */
    val BEDS: List<UUID> = listOf(
        UUID.fromString("067b6d11-9b9c-44ec-adce-d88fea16acd2"),
        UUID.fromString("067b6d12-9b9c-44ec-adce-d88fea16acd2"),
        UUID.fromString("067b6d13-9b9c-44ec-adce-d88fea16acd2"),
        UUID.fromString("067b6d14-9b9c-44ec-adce-d88fea16acd2"),
        UUID.fromString("067b6d15-9b9c-44ec-adce-d88fea16acd2"),
        UUID.fromString("067b6d16-9b9c-44ec-adce-d88fea16acd2"),
        UUID.fromString("067b6d17-9b9c-44ec-adce-d88fea16acd2"),
        UUID.fromString("067b6d18-9b9c-44ec-adce-d88fea16acd2"),
        UUID.fromString("067b6d19-9b9c-44ec-adce-d88fea16acd2"),
        UUID.fromString("067b6d1a-9b9c-44ec-adce-d88fea16acd2"),
    )

    val BATTERY: UUID = UUID.fromString("0000180f-0000-1000-8000-00805f9b34fb")
    val BATTERY_LEVEL: UUID = UUID.fromString("00002a19-0000-1000-8000-00805f9b34fb")

    val CCCD: UUID = UUID.fromString("00002902-0000-1000-8000-00805f9b34fb")

    const val MTU = 128
}
