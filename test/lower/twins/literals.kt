fun literals() {
    val whole = 42
    val hex = 0x2A
    val half = 0.5
    val grouped = 1_000
    val text = "a \"b\"\n"
    val yes = true
    val no = false
    val nothing = null
}
