export class Scale {
  private command!: BluetoothRemoteGATTCharacteristic;
  private weight!: BluetoothRemoteGATTCharacteristic;
  failed = false;

  tare() {
    this.command.writeValueWithResponse(new Uint8Array([1])); //! start-result-unchecked warning
  }

  async start() {
    this.weight.startNotifications(); //! start-result-unchecked warning
    const pending = this.weight.readValue(); //! start-result-unchecked warning
    await this.command.writeValue(new Uint8Array([2]));
  }

  finallyOnly(done: () => void) {
    this.weight.readValue().finally(done); //! start-result-unchecked warning
  }

  notAwaited() {
    try {
      this.weight.readValue(); //! start-result-unchecked warning
    } catch {
      this.failed = true;
    }
  }

  sequence() {
    return this.weight.readValue(), this.command.readValue(); //! start-result-unchecked warning
  }
}
