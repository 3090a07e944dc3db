package hive.queued

/** Runs one operation at a time; an operation says itself whether it was accepted. */
class OperationQueue {
    private class Waiting(val name: String, val start: () -> Boolean, val onRefused: (String) -> Unit)

    private val waiting = ArrayDeque<Waiting>()
    private var current: Waiting? = null

    @Synchronized
    fun enqueue(name: String, onRefused: (String) -> Unit = {}, start: () -> Boolean) {
        waiting.addLast(Waiting(name, start, onRefused))
        if (current == null) next()
    }

    /** The completion of the current operation has come. */
    @Synchronized
    fun completed() {
        current = null
        next()
    }

    @Synchronized
    fun clear() {
        waiting.clear()
        current = null
    }

    private fun next() {
        while (current == null) {
            val candidate = waiting.removeFirstOrNull() ?: return
            current = candidate
            if (!candidate.start()) {
                current = null
                candidate.onRefused(candidate.name)
            }
        }
    }
}
