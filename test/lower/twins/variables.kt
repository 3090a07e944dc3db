fun tally(start: Int) {
    val fixed = start
    var moving: Int = fixed
    moving = moving + 1
    moving += 2
    moving -= 3
    moving *= 4
    var later: String
    later = "now"
}
