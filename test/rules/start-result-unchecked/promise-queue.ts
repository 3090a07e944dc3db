/** Every caller gets the promise of its own operation; the tail never fails. */
class Tail {
  private last: Promise<unknown> = Promise.resolve();

  run<T>(operation: () => Promise<T>): Promise<T> {
    const result = this.last.then(operation);
    this.last = result.catch(() => undefined);
    return result;
  }
}

interface Waiting {
  readonly operation: () => Promise<void>;
  readonly resolve: () => void;
  readonly reject: (reason: unknown) => void;
}

class List {
  private readonly waiting: Waiting[] = [];

  add(operation: () => Promise<void>): Promise<void> {
    return new Promise((resolve, reject) => {
      this.waiting.push({ operation, resolve, reject });
      this.next();
    });
  }

  private next() {
    const first = this.waiting.shift();
    first?.operation().then(first.resolve, first.reject).finally(() => this.next());
  }
}

export class Scale {
  private readonly tail = new Tail();
  private readonly list = new List();

  constructor(private readonly command: BluetoothRemoteGATTCharacteristic) {}

  tare() {
    return this.tail.run(() => this.command.writeValue(new Uint8Array([1])));
  }

  zero() {
    this.tail.run(() => this.command.writeValue(new Uint8Array([1]))); //! start-result-unchecked warning
    this.list.add(() => this.command.writeValue(new Uint8Array([1]))); //! start-result-unchecked warning
  }

  async both() {
    await this.list.add(() => this.command.writeValue(new Uint8Array([1])));
    this.tail.run(() => this.command.writeValue(new Uint8Array([1]))).catch(console.error);
  }
}
