fun handle(code: Int) {
    when (code) {
        0 -> accept(code)
        1, 2 -> {
            retry()
            log("again")
        }
        else -> reject()
    }
}
