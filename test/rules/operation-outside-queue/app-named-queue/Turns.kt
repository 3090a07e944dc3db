package hive.turns

import kotlinx.coroutines.CompletableDeferred

/** Given by another team; how it orders what it is given is their affair. */
abstract class Turns {
    abstract suspend fun next(start: () -> Boolean): Int
}

class Answers {
    private var waiting: CompletableDeferred<Int>? = null

    fun expect(): CompletableDeferred<Int> = CompletableDeferred<Int>().also { waiting = it }

    fun came(status: Int) {
        waiting?.complete(status)
    }
}
