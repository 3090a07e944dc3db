fun release(gatt: Gatt?) {
    val name = gatt!!.name ?: "scale"
    if (gatt == null) return
    gatt.close()
    use(name)
}
