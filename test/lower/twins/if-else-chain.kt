fun grade(status: Int): String {
    if (status == 0) {
        return "ok"
    } else if (status < 8) {
        log(status)
    } else {
        throw fail(status)
    }
    if (status > 100) return "high"
    return "low"
}
