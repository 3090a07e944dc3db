interface Reading {
    val grams: Int
    val source: Source?
}

class Store {
    private var newest: Reading? = null

    fun keep(reading: Reading) {
        this.newest = reading
        if (this.newest == null) this.newest = reading
    }
}
