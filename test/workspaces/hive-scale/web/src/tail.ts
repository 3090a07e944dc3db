/**
 * One GATT operation at a time: browsers may refuse a second one while the first is under way. Whatever is given to
 * {@link run} starts when everything given earlier has ended, well or badly.
 */
export class GattTail {
  private last: Promise<unknown> = Promise.resolve();

  run<T>(operation: () => Promise<T>): Promise<T> {
    const result = this.last.then(operation);
    this.last = result.then(ignore, ignore);
    return result;
  }
}

function ignore(): void {
  // The caller has the failure; the next in line should not.
}
