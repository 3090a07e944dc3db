function drain(queue: Queue, items: number[]) {
  while (queue.size > 0) {
    queue.next();
  }
  do {
    queue.wait();
  } while (queue.busy);
  for (const item of items) {
    if (item === 0) continue;
    if (item < 0) break;
    queue.push(item);
  }
}
