class Shapes {
  all(
    a: readonly number[], b: Map<string, boolean>, c: Set<string>, d: Uint8Array, e: unknown,
    f: (x: number, y: string) => boolean, g: Reading | null, h: Outer.Inner, i: Result<Reading>,
  ): void {
    use(a);
  }
}
