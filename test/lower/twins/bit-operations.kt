fun flags(a: Int, b: Int): Int {
    return a and 0xF or (b shl 2)
}
