class Link {
    fun poll(gatt: Gatt, at: Int) {
        gatt.read(at)
        gatt.service.item(at).write(gatt.mtu, "go")
        this.poll(gatt, at)
        poll(gatt, at)
    }
}
