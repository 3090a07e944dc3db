class Queue {
    var head: Node? = null
    var onDone: ((Node) -> Unit)? = null
}
