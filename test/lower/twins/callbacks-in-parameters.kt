class Bridge {
    private val link: Link = make()

    fun read(at: Int, onDone: (ByteArray, Int) -> Unit, onFail: ((Int) -> Unit)? = null) {
        link.read(at, { bytes, status -> if (status == 0) onDone(bytes, status) else onFail!!(status) })
    }
}
