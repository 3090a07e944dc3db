class Scale {
  private readonly unit = 'g';
  grams: number = 0;
  protected last: Reading | null = null;
  readonly history: number[] = empty();
}
