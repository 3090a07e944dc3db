fun swap(bytes: ByteArray, table: Table, key: String) {
    val first = bytes[0]
    bytes[1] = first
    table[key] = bytes[first]
}
