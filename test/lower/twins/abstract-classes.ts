abstract class Transport {
  abstract send(data: Uint8Array): boolean;
  protected done(): boolean {
    return true;
  }
}
