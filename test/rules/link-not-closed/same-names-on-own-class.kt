package hive

import java.util.UUID

/** The app's own simulator has the platform's words; nothing is registered anywhere. */
class SimulatedDevice(private val id: UUID) {
    fun connectGatt(autoConnect: Boolean): SimulatedGatt = SimulatedGatt(id, autoConnect)
}

class SimulatedGatt(private val id: UUID, private val autoConnect: Boolean)

class Simulation(private val device: SimulatedDevice) {
    private var gatt: SimulatedGatt? = null

    fun start() {
        gatt = device.connectGatt(false)
        device.connectGatt(true)
    }
}
