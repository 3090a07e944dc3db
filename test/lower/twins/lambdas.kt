fun subscribe(bus: Bus) {
    bus.each({ value -> show(value) })
    bus.map({ a, b -> a + b })
    bus.on({ event: Event -> store(event) })
    val later = { run() }
    val deeper = { x: Int -> { y: Int -> x + y } }
}
