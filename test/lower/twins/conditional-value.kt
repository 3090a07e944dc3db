fun pick(a: Boolean, b: Boolean): Int {
    val one = if (a) 1 else 2
    return if (a) first() else if (b) second() else third()
}
