fun count() {
    var n = 0
    n++
    ++n
    n--
    use(n++)
}
