export class Caught {
  private tail: Promise<unknown> = Promise.resolve();

  constructor(private readonly command: BluetoothRemoteGATTCharacteristic) {}

  write(bytes: Uint8Array<ArrayBuffer>): Promise<void> {
    const result = this.tail.then(() => this.command.writeValue(bytes));
    this.tail = result.catch(() => undefined);
    return result;
  }

  writeBoth(bytes: Uint8Array<ArrayBuffer>): Promise<void> {
    const write = () => this.command.writeValue(bytes);
    const result = this.tail.then(write, write);
    this.tail = result;
    return result;
  }
}

export class Reset {
  private tail: Promise<void> = Promise.resolve();

  constructor(private readonly command: BluetoothRemoteGATTCharacteristic) {}

  write(bytes: Uint8Array<ArrayBuffer>): Promise<void> {
    this.tail = this.tail.then(() => this.command.writeValue(bytes));
    return this.tail;
  }

  async writeAll(parts: Uint8Array<ArrayBuffer>[]) {
    try {
      for (const part of parts) await this.write(part);
    } catch (error) {
      this.tail = Promise.resolve();
      throw error;
    }
  }
}

export class Swallowed {
  private tail: Promise<void> = Promise.resolve();

  constructor(private readonly command: BluetoothRemoteGATTCharacteristic) {}

  write(bytes: Uint8Array<ArrayBuffer>) {
    this.tail = this.tail.then(() => this.command.writeValue(bytes)).catch(error => console.error(error));
  }

  writeInside(bytes: Uint8Array<ArrayBuffer>) {
    this.tail = this.tail.then(async () => {
      try {
        await this.command.writeValue(bytes);
      } catch (error) {
        console.error(error);
      }
    });
  }
}
