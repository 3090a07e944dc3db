function flags(a: number, b: number): number {
  return a & 0xf | (b << 2);
}
