package hive



/** Speaks of the platform's calls, and makes none. */
class Recorder {
    private val log = mutableListOf<String>()

    fun writeCharacteristic(name: String): Boolean = log.add("write $name")

    fun readCharacteristic(name: String): Boolean = log.add("read $name")

    fun replay(names: List<String>) {
        for (name in names) writeCharacteristic(name)
        readCharacteristic("weight")
        readCharacteristic("battery")
        // gatt.readCharacteristic(weight); gatt.readCharacteristic(battery)
    }
}
