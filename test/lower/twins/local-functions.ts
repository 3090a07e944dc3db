function outer() {
  function inner(x: number): number {
    return x;
  }
  inner(1);
}
