interface Reading {
  readonly grams: number;
  readonly source: Source | null;
}

class Store {
  private newest: Reading | null = null;

  keep(reading: Reading) {
    this.newest = reading;
    if (this.newest === null) this.newest = reading;
  }
}
