export class Link {
  private turn: Promise<void> = Promise.resolve();

  constructor(private readonly control: BluetoothRemoteGATTCharacteristic) {}

  async send(bytes: Uint8Array): Promise<void> {
    let done!: () => void;
    const before = this.turn;
    this.turn = new Promise((resolve) => { done = resolve; });
    await before;
    try {
      await this.control.writeValueWithResponse(bytes);
    } finally {
      done();
    }
  }

  sendAll(all: Uint8Array[]): void {
    for (const bytes of all) this.send(bytes).catch(console.warn);
  }
}
