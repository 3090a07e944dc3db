class Reading(val grams: Int, private var unit: String = "g") {
    init {
        check(grams)
    }

    fun text(): String {
        return unit
    }
}
