function pump(queue: Queue) {
  while (true) {
    const next = queue.take();
    if (next === null) break;
    next.run();
  }
}
