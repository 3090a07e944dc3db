enum class State {
    IDLE, BUSY, LOST
}
