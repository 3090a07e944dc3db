export class Scale {
  constructor(private readonly weight: BluetoothRemoteGATTCharacteristic) {}

  start() {
    void this.weight.startNotifications(); //! start-result-unchecked hint
    void this.weight.startNotifications().catch(console.error);
  }

  ping() {
    // Fire and forget: the next one comes in a second, and nobody misses this one.
    this.weight.writeValueWithoutResponse(new Uint8Array([0])); //! start-result-unchecked hint
    // eslint-disable-next-line @typescript-eslint/no-floating-promises
    this.weight.readValue(); //! start-result-unchecked hint
  }
}
