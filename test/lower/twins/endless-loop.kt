fun pump(queue: Queue) {
    while (true) {
        val next = queue.take()
        if (next == null) break
        next.run()
    }
}
