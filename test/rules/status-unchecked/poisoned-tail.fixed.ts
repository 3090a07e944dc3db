/** One failed write, and every later one is refused with its error. */
export class Poisoned {
  private tail: Promise<void> = Promise.resolve();

  constructor(private readonly command: BluetoothRemoteGATTCharacteristic) {}

  write(bytes: Uint8Array<ArrayBuffer>): Promise<void> {
    this.tail = this.tail.catch(() => undefined).then(() => this.command.writeValue(bytes));
    return this.tail;
  }
}

export class Runner {
  private last: Promise<unknown> = Promise.resolve();

  run<T>(operation: () => Promise<T>): Promise<T> {
    const result = this.last.then(operation);
    this.last = result;
    return result;
  }
}

export class User {
  private readonly runner = new Runner();

  constructor(private readonly command: BluetoothRemoteGATTCharacteristic) {}

  tare() {
    return this.runner.run(() => this.command.writeValue(new Uint8Array([1])));
  }
}

declare function useRef<T>(initial: T): { current: T };

export function useCommand(command: BluetoothRemoteGATTCharacteristic) {
  const queue = useRef<Promise<void>>(Promise.resolve());
  return (bytes: Uint8Array<ArrayBuffer>) => {
    queue.current = queue.current.then(() => command.writeValue(bytes));
    return queue.current;
  };
}

export function useHealedCommand(command: BluetoothRemoteGATTCharacteristic) {
  const queue = useRef<Promise<void>>(Promise.resolve());
  return (bytes: Uint8Array<ArrayBuffer>) => {
    const result = queue.current.then(() => command.writeValue(bytes));
    queue.current = result.catch(() => undefined);
    return result;
  };
}
