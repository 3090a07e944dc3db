abstract class Transport {
    abstract fun send(data: ByteArray): Boolean
    protected fun done(): Boolean {
        return true
    }
}
