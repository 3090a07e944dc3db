package app.hivescale.firmware

import android.bluetooth.BluetoothDevice
import android.content.Context
import app.hivescale.gatt.HiveGatt
import app.hivescale.gatt.toLittleEndian
import kotlinx.coroutines.flow.MutableStateFlow
import kotlinx.coroutines.flow.StateFlow
import kotlinx.coroutines.withTimeoutOrNull
import java.io.IOException

/** Sends an image to the bootloader in windows; the bootloader answers each window with the bytes it has. */
class FirmwareUploader(private val context: Context) {

    sealed class State {
        data object Idle : State()
        data class Sending(val percent: Int) : State()
        data class Finished(val version: String) : State()
        data class Failed(val reason: String) : State()
    }

    private val mutable = MutableStateFlow<State>(State.Idle)
    val state: StateFlow<State> = mutable

    suspend fun upload(device: BluetoothDevice, image: FirmwareImage, careful: Boolean) {
        val client = FirmwareClient(context, device)
        try {
            client.connect()
            client.discover()
            client.negotiateMtu()
            send(client, image, careful)
            mutable.value = State.Finished(image.version)
        } catch (e: IOException) {
            mutable.value = State.Failed(e.message ?: "upload failed")
        } finally {
            client.close()
        }
    }

    private suspend fun send(client: FirmwareClient, image: FirmwareImage, careful: Boolean) {
        val control = client.characteristic(HiveGatt.FIRMWARE_CONTROL)
        val data = client.characteristic(HiveGatt.FIRMWARE_DATA)
        client.listen(control)
        client.write(control, byteArrayOf(BEGIN) + image.data.size.toLittleEndian(4))
        expect(client, BEGIN)

        val chunks = image.chunks(client.payload)
        var sent = 0
        for (window in chunks.chunked(WINDOW)) {
            if (careful) {
                for (chunk in window) client.write(data, chunk)
            } else {
                client.stream(data, window)
            }
            expect(client, WINDOW_DONE)
            sent += window.size
            mutable.value = State.Sending(percent = 100 * sent / chunks.size)
        }

        client.write(control, byteArrayOf(VERIFY) + image.crc.toLittleEndian(4))
        expect(client, VERIFY)
    }

    /** The first byte of a reply repeats the step, the second is zero when it went well. */
    private suspend fun expect(client: FirmwareClient, step: Byte) {
        val reply = withTimeoutOrNull(REPLY_TIMEOUT_MS) { client.replies.receive() }
            ?: throw IOException("the bootloader went silent")
        if (reply.size < 2 || reply[0] != step) throw IOException("unexpected reply")
        if (reply[1] != OK) throw IOException("the bootloader refused step $step with ${reply[1]}")
    }

    private companion object {
        const val WINDOW = 16
        const val REPLY_TIMEOUT_MS = 5_000L
        const val OK: Byte = 0
        const val BEGIN: Byte = 1
        const val WINDOW_DONE: Byte = 2
        const val VERIFY: Byte = 3
    }
}
