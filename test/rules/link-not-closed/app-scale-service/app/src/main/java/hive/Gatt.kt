package hive

import java.util.UUID

object Gatt {
    val HIVE: UUID = UUID.fromString("df070100-7563-45da-9adc-777135148d9e")
    val WEIGHT: UUID = UUID.fromString("df070101-7563-45da-9adc-777135148d9e")
}
