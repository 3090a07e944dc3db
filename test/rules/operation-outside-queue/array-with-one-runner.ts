interface Entry {
  readonly run: () => Promise<unknown>;
  readonly done: (value: unknown) => void;
}

export class Queue {
  private readonly entries: Entry[] = [];
  private running = false;

  add<T>(run: () => Promise<T>): Promise<unknown> {
    return new Promise((done) => {
      this.entries.push({ run, done });
      void this.pump();
    });
  }

  private async pump(): Promise<void> {
    if (this.running) return;
    this.running = true;
    while (this.entries.length > 0) {
      const entry = this.entries.shift()!;
      try {
        entry.done(await entry.run());
      } catch (error) {
        console.warn(error);
      }
    }
    this.running = false;
  }
}

export class Scale {
  private readonly queue = new Queue();

  constructor(private readonly weight: BluetoothRemoteGATTCharacteristic, private readonly command: BluetoothRemoteGATTCharacteristic) {}

  refresh(): void {
    void this.queue.add(() => this.weight.readValue());
    void this.queue.add(() => this.command.writeValueWithResponse(Uint8Array.of(1)));
  }
}
