@Component("hive")
class Dashboard {
    @Input
    val name = "a"

    @Handler(1, "x")
    fun refresh() {
        load()
    }
}
