/** The app's own types: no status that the platform knows of. */
interface LinkListener {
    fun onCharacteristicRead(name: String, value: ByteArray, status: Int)
    fun onServicesDiscovered(name: String, status: Int)
}

class Shown : LinkListener {
    var shown = byteArrayOf()

    override fun onCharacteristicRead(name: String, value: ByteArray, status: Int) {
        shown = value
    }

    override fun onServicesDiscovered(name: String, status: Int) {
        shown = byteArrayOf()
    }
}

abstract class GattCallback {
    open fun onDescriptorWrite(gatt: Any, descriptor: Any, status: Int) = Unit
}

class Own(private val next: () -> Unit) : GattCallback() {
    override fun onDescriptorWrite(gatt: Any, descriptor: Any, status: Int) {
        next()
    }
}
