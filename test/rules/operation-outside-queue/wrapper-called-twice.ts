export class Light {
  constructor(private readonly control: BluetoothRemoteGATTCharacteristic) {}

  async write(bytes: number[]): Promise<void> {
    await this.control.writeValueWithResponse(Uint8Array.from(bytes));
  }

  flash(): void {
    this.write([1]).catch(console.warn);
    this.write([0]).catch(console.warn); //! operation-outside-queue warning
  }

  async fade(): Promise<void> {
    for (let level = 0; level < 10; level++) void this.write([level]); //! operation-outside-queue warning
  }
}
