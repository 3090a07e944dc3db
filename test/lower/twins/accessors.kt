class Scale {
    val kilos: Int
        get(): Int {
            return read() / 1000
        }
    var unit: String
        get(): String {
            return name
        }
        set(value) {
            store(value)
        }
}
