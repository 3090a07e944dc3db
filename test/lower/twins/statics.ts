class Ids {
  static readonly service = 'a';
  static make(): Ids {
    return build();
  }
}
