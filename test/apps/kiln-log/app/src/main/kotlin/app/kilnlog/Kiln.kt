package app.kilnlog

import android.bluetooth.BluetoothDevice
import android.content.Context
import kotlinx.coroutines.flow.Flow
import kotlinx.coroutines.flow.StateFlow
import kotlinx.coroutines.flow.map
import java.io.Closeable

/** The kiln in the words of potters. */
class Kiln private constructor(private val client: GattClient, val firmware: String) : Closeable {

    val isConnected: StateFlow<Boolean> get() = client.isConnected

    val chamber: Flow<Double> =
        client.changesOf(KilnGatt.CHAMBER).map { bytes -> u16(bytes[0], bytes[1]) / 10.0 }

    val stage: Flow<Stage> =
        client.changesOf(KilnGatt.STAGE).map { bytes -> Stage.entries.getOrElse(bytes[0].toInt()) { Stage.IDLE } }

    suspend fun schedule(): Schedule = Schedule.decode(client.read(KilnGatt.KILN, KilnGatt.SCHEDULE))

    /** Writes, and reads back: the kiln cuts what its ramps cannot do. */
    suspend fun load(schedule: Schedule): Schedule {
        require(schedule.segments.size <= Schedule.MOST_SEGMENTS) { "at most ${Schedule.MOST_SEGMENTS} segments" }
        client.write(KilnGatt.KILN, KilnGatt.SCHEDULE, schedule.encode())
        return schedule()
    }

    override fun close() = client.close()

    companion object {
        suspend fun open(context: Context, device: BluetoothDevice): Kiln {
            val client = GattClient.connect(context, device)
            try {
                client.discover()
                client.subscribe(KilnGatt.KILN, KilnGatt.CHAMBER)
                client.subscribe(KilnGatt.KILN, KilnGatt.STAGE)
                val firmware = client.read(KilnGatt.DEVICE_INFORMATION, KilnGatt.FIRMWARE_REVISION).decodeToString()
                return Kiln(client, firmware)
            } catch (e: Exception) {
                client.close()
                throw e
            }
        }
    }
}
