class Hive : Device, Closeable {
    override fun close() {
        super.close()
    }
}
