export class Scale {
  private tail: Promise<unknown> = Promise.resolve();

  constructor(private readonly weight: BluetoothRemoteGATTCharacteristic, private readonly command: BluetoothRemoteGATTCharacteristic) {}

  private enqueue<T>(operation: () => Promise<T>): Promise<T> {
    const result = this.tail.then(operation);
    this.tail = result.catch(() => undefined);
    return result;
  }

  readWeight(): Promise<DataView> {
    return this.enqueue(() => this.weight.readValue());
  }

  tare(): Promise<void> {
    return this.enqueue(async () => {
      await this.command.writeValueWithResponse(Uint8Array.of(1));
    });
  }

  readBoth(): Promise<unknown> {
    return Promise.all([this.readWeight(), this.readWeight(), this.tare()]);
  }

  async identify(): Promise<void> {
    await this.enqueue(() => this.command.writeValueWithResponse(Uint8Array.of(2)));
  }
}
