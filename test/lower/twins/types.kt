class Shapes {
    fun all(
        a: List<Int>, b: Map<String, Boolean>, c: Set<String>, d: ByteArray, e: Any,
        f: (Int, String) -> Boolean, g: Reading?, h: Outer.Inner, i: Result<Reading>,
    ): Unit {
        use(a)
    }
}
