function subscribe(bus: Bus) {
  bus.each((value) => show(value));
  bus.map((a, b) => a + b);
  bus.on((event: Event) => store(event));
  const later = () => run();
  const deeper = (x: number) => (y: number) => x + y;
}
