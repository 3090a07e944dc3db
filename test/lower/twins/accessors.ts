class Scale {
  get kilos(): number {
    return read() / 1000;
  }

  get unit(): string {
    return name;
  }

  set unit(value) {
    store(value);
  }
}
