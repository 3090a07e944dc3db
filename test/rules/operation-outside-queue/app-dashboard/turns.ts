type Step = () => Promise<unknown>;

/** One after the other, in the order of asking; a failed one holds nobody up. */
export class Turns {
  private readonly steps: Step[] = [];
  private busy = false;

  take<T>(start: () => Promise<T>): Promise<T> {
    return new Promise<T>((resolve, reject) => {
      this.steps.push(() => start().then(resolve, reject));
      this.next();
    });
  }

  private next(): void {
    if (this.busy) return;
    const step = this.steps.shift();
    if (!step) return;
    this.busy = true;
    step().finally(() => {
      this.busy = false;
      this.next();
    }).catch(console.warn);
  }
}
