enum State {
  IDLE, BUSY, LOST
}
