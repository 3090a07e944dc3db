fun drain(queue: Queue, items: List<Int>) {
    while (queue.size > 0) {
        queue.next()
    }
    do {
        queue.wait()
    } while (queue.busy)
    for (item in items) {
        if (item == 0) continue
        if (item < 0) break
        queue.push(item)
    }
}
