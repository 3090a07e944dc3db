export class Frames {
  constructor(private readonly probes: readonly BluetoothRemoteGATTCharacteristic[], private readonly weight: BluetoothRemoteGATTCharacteristic) {}

  async readAll(): Promise<DataView[]> {
    return Promise.all(this.probes.map((probe) => probe.readValue())); //! operation-outside-queue warning
  }

  async both(battery: BluetoothRemoteGATTCharacteristic): Promise<void> {
    const [weight, level] = await Promise.all([this.weight.readValue(), battery.readValue()]); //! operation-outside-queue warning
    show(weight, level);
  }

  async listen(): Promise<void> {
    const pending: Promise<unknown>[] = [];
    for (const probe of this.probes) pending.push(probe.startNotifications());
    await Promise.all(pending); //! operation-outside-queue warning
  }

  async characteristics(service: BluetoothRemoteGATTService, uuids: string[]): Promise<void> {
    await Promise.allSettled(uuids.map(async (uuid) => { //! operation-outside-queue warning
      const characteristic = await service.getCharacteristic(uuid);
      await characteristic.readValue(); //! operation-outside-queue hint
    }));
  }
}

declare function show(...views: DataView[]): void;
