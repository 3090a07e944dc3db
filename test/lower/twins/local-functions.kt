fun outer() {
    fun inner(x: Int): Int {
        return x
    }
    inner(1)
}
