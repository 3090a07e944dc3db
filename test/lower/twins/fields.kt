class Scale {
    private val unit = "g"
    var grams: Int = 0
    protected var last: Reading? = null
    val history: List<Int> = empty()
}
