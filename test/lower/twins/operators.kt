fun weigh(a: Int, b: Int, c: Boolean): Boolean {
    val sum = a + b * 2 - (a - b) / 3 % 4
    val sign = -sum
    val both = c && !(a == b) || a != b
    return both && a <= b && a >= b && sign > sum
}
