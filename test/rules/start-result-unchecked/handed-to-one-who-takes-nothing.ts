class Bus {
  private readonly listeners: (() => void)[] = [];

  listen(listener: () => void) {
    this.listeners.push(listener);
  }
}

export function wire(bus: Bus, weight: BluetoothRemoteGATTCharacteristic) {
  bus.listen(() => weight.readValue()); //! start-result-unchecked warning
  bus.listen(() => { weight.readValue().catch(console.error); });
}
