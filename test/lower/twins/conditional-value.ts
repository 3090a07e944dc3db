function pick(a: boolean, b: boolean): number {
  const one = a ? 1 : 2;
  return a ? first() : b ? second() : third();
}
