export class Scale {
  private pending?: Promise<DataView>;
  private readonly waiting: Promise<void>[] = [];

  constructor(private readonly weight: BluetoothRemoteGATTCharacteristic, private readonly all: BluetoothRemoteGATTCharacteristic[]) {}

  returned() {
    return this.weight.readValue();
  }

  arrow = () => this.weight.readValue();

  async awaited() {
    const value = await this.weight.readValue();
    const later = this.weight.readValue();
    return [value, await later];
  }

  kept() {
    this.pending = this.weight.readValue();
    this.waiting.push(this.weight.writeValue(new Uint8Array(1)));
    return Promise.all(this.waiting);
  }

  async together() {
    await Promise.all(this.all.map(it => it.startNotifications()));
    await Promise.allSettled(this.all.map(it => it.stopNotifications()));
  }

  async deadline(ms: number) {
    return Promise.race([this.weight.readValue(), new Promise<never>((_, reject) => setTimeout(reject, ms))]);
  }

  caught() {
    this.weight.readValue().then(v => v.getUint8(0)).catch(() => undefined);
    this.weight.readValue().then(v => v.getUint8(0), () => undefined);
    this.weight.readValue().catch(() => undefined).finally(() => undefined);
  }

  wrapped() {
    return new Promise<DataView>((resolve, reject) => {
      this.weight.readValue().then(resolve, reject);
    });
  }

  wrappedAgain() {
    return new Promise<DataView>((resolve, reject) => {
      this.weight.readValue().then(resolve).catch(reject);
    });
  }

  given(unknown: (p: Promise<DataView>) => void) {
    unknown(this.weight.readValue());
  }

  conditional(ready: boolean) {
    return ready ? this.weight.readValue() : undefined;
  }
}
