fun guarded() {
    try {
        open()
    } catch (error: Exception) {
        report(error)
    } finally {
        close()
    }
}

fun plain() {
    try {
        open()
    } finally {
        close()
    }
}
