class Scale {
  constructor(private readonly weight: BluetoothRemoteGATTCharacteristic) {}

  async read() {
    return (await this.weight.readValue()).getUint16(0);
  }

  async safely() {
    try {
      return await this.read();
    } catch {
      return undefined;
    }
  }

  quietly() {
    return this.read().catch(() => undefined);
  }
}

export function main(scale: Scale) {
  scale.read(); //! start-result-unchecked warning
  scale.safely();
  scale.quietly();
  return scale.read();
}
