function weigh(a: number, b: number, c: boolean): boolean {
  const sum = a + b * 2 - (a - b) / 3 % 4;
  const sign = -sum;
  const both = c && !(a === b) || a !== b;
  return both && a <= b && a >= b && sign > sum;
}
