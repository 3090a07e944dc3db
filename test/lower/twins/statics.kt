class Ids {
    companion object {
        val service = "a"
        fun make(): Ids {
            return build()
        }
    }
}
