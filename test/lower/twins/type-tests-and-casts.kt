fun open(message: Any) {
    if (message is Reading) show(message)
    val reading = message as Reading
    val plain = !(message is Fault)
}
