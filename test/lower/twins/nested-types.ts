class Queue {
  head: Node | null = null;
  onDone: ((node: Node) => void) | null = null;
}
