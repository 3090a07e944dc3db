package app.hivescale.gatt

import java.util.UUID

/**
 * What the scale offers, firmware 2.x. Keep in step with hive-scale.device.yaml. The second half of the first group of
 * our own UUIDs counts service and characteristic.
 */
object HiveGatt {

    // Measurements
    val HIVE_SERVICE: UUID = UUID.fromString("df070100-7563-45da-9adc-777135148d9e")
    val WEIGHT: UUID = UUID.fromString("df070101-7563-45da-9adc-777135148d9e")
    val SOUND_LEVEL: UUID = UUID.fromString("df070102-7563-45da-9adc-777135148d9e")
    val ALARM: UUID = UUID.fromString("df070103-7563-45da-9adc-777135148d9e")
    val COMMAND: UUID = UUID.fromString("df070104-7563-45da-9adc-777135148d9e")

    /** Front left, front right, rear left, rear right. */
    val LOAD_CELLS: List<UUID> = listOf(
        UUID.fromString("df070111-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070112-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070113-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070114-7563-45da-9adc-777135148d9e"),
    )

    /** One probe between each two frames, counted from the entrance. */
    val FRAME_PROBES: List<UUID> = listOf(
        UUID.fromString("df070121-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070122-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070123-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070124-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070125-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070126-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070127-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070128-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df070129-7563-45da-9adc-777135148d9e"),
        UUID.fromString("df07012a-7563-45da-9adc-777135148d9e"),
    )

    // Settings
    val SETTINGS_SERVICE: UUID = UUID.fromString("df070200-7563-45da-9adc-777135148d9e")
    val SETTINGS: UUID = UUID.fromString("df070201-7563-45da-9adc-777135148d9e")
    val HIVE_NAME: UUID = UUID.fromString("df070202-7563-45da-9adc-777135148d9e")

    // Firmware, in the bootloader only
    val FIRMWARE_SERVICE: UUID = UUID.fromString("df070300-7563-45da-9adc-777135148d9e")
    val FIRMWARE_CONTROL: UUID = UUID.fromString("df070301-7563-45da-9adc-777135148d9e")
    val FIRMWARE_DATA: UUID = UUID.fromString("df070302-7563-45da-9adc-777135148d9e")

    // Adopted services
    val BATTERY_SERVICE: UUID = UUID.fromString("0000180f-0000-1000-8000-00805f9b34fb")
    val BATTERY_LEVEL: UUID = UUID.fromString("00002a19-0000-1000-8000-00805f9b34fb")
    val DEVICE_INFORMATION: UUID = UUID.fromString("0000180a-0000-1000-8000-00805f9b34fb")
    val FIRMWARE_REVISION: UUID = UUID.fromString("00002a26-0000-1000-8000-00805f9b34fb")
    val ENVIRONMENT_SERVICE: UUID = UUID.fromString("0000181a-0000-1000-8000-00805f9b34fb")
    val TEMPERATURE: UUID = UUID.fromString("00002a6e-0000-1000-8000-00805f9b34fb")
    val HUMIDITY: UUID = UUID.fromString("00002a6f-0000-1000-8000-00805f9b34fb")

    val CCCD: UUID = UUID.fromString("00002902-0000-1000-8000-00805f9b34fb")

    /** The scale offers 185; that is what its radio buffers hold. */
    const val MTU = 185
    const val ATT_HEADER = 3
    const val DEFAULT_PAYLOAD = 20
}

/** One-byte commands, acknowledged by the write response. */
object Command {
    val TARE = byteArrayOf(0x01)
    val IDENTIFY = byteArrayOf(0x02)
    val REBOOT = byteArrayOf(0x7f)
}
