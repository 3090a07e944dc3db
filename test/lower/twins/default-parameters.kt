fun connect(name: String = "hive", retries: Int = 3, extras: List<Int>) {
    start(name, retries, *extras)
}
