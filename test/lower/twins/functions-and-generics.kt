fun <T> first(items: List<T>): T {
    return items[0]
}

fun <K, V> pairs(source: Map<K, V>, keep: (V) -> Boolean): List<V> {
    return source.values.filter(keep)
}

class Box<T> {
    val items: List<T> = empty()
}

typealias Listener<T> = (T) -> Unit
