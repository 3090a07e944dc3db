class Reading {
  constructor(readonly grams: number, private unit: string = 'g') {
    {
      check(grams);
    }
  }

  text(): string {
    return unit;
  }
}
