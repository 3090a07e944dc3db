package app.hivescale.firmware

import app.hivescale.gatt.int32
import java.util.zip.CRC32

/** A firmware file: magic, version, length, then the image itself. */
class FirmwareImage private constructor(val version: String, val data: ByteArray) {

    val crc: Int = CRC32().apply { update(data) }.value.toInt()

    fun chunks(size: Int): List<ByteArray> {
        require(size > 0) { "chunk size must be positive" }
        return (data.indices step size).map { data.copyOfRange(it, minOf(it + size, data.size)) }
    }

    companion object {
        private const val MAGIC = 0x46425748
        private const val HEADER = 16

        fun parse(file: ByteArray): FirmwareImage {
            require(file.size > HEADER && file.int32(0) == MAGIC) { "not a firmware file" }
            val version = "${file[4]}.${file[5]}.${file[6]}"
            val length = file.int32(8)
            require(length in 1..(file.size - HEADER)) { "the firmware file is cut off" }
            return FirmwareImage(version, file.copyOfRange(HEADER, HEADER + length))
        }
    }
}
