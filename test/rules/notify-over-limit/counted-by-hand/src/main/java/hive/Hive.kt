package hive

import java.util.UUID

fun hive(n: Int): UUID = UUID.fromString("df07%04x-7563-45da-9adc-777135148d9e".format(n))

enum class Channel(val uuid: UUID) {
    Weight(UUID.fromString("df070101-7563-45da-9adc-777135148d9e")),
    Sound(UUID.fromString("df070102-7563-45da-9adc-777135148d9e")),
    Alarm(UUID.fromString("df070103-7563-45da-9adc-777135148d9e")),
    Moisture(UUID.fromString("df070104-7563-45da-9adc-777135148d9e")),
    Wind(UUID.fromString("df070105-7563-45da-9adc-777135148d9e")),
}

val PROBES: List<UUID> = listOf(
    UUID.fromString("df070121-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070122-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070123-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070124-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070125-7563-45da-9adc-777135148d9e"),
    UUID.fromString("df070126-7563-45da-9adc-777135148d9e"),
)

val CELLS: Map<UUID, String> = mapOf(
    UUID.fromString("df070111-7563-45da-9adc-777135148d9e") to "front left",
    UUID.fromString("df070112-7563-45da-9adc-777135148d9e") to "front right",
    UUID.fromString("df070113-7563-45da-9adc-777135148d9e") to "rear left",
    UUID.fromString("df070114-7563-45da-9adc-777135148d9e") to "rear right",
)

data class Extra(val name: String, val uuid: UUID)

val EXTRAS = listOf(
    Extra("rain", UUID.fromString("df070131-7563-45da-9adc-777135148d9e")),
    Extra("light", UUID.fromString("df070132-7563-45da-9adc-777135148d9e")),
)
