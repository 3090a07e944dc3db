interface Link {
    val name: String
    var mtu: Int
    fun read(at: Int): Reading
    fun close()
}
