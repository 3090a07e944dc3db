fun listen(bus: Bus) {
    bus.add(object {
        var limit = 3
        fun done(status: Int) {
            finish(status)
        }
    })
}
