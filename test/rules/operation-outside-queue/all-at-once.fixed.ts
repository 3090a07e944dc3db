export class Frames {
  constructor(private readonly probes: readonly BluetoothRemoteGATTCharacteristic[], private readonly weight: BluetoothRemoteGATTCharacteristic) {}

  async readAll(): Promise<DataView[]> {
    const results = [];
    for (const probe of this.probes) {
      results.push(await probe.readValue());
    }
    return results;
  }

  async both(battery: BluetoothRemoteGATTCharacteristic): Promise<void> {
    const [weight, level] = await Promise.all([this.weight.readValue(), battery.readValue()]);
    show(weight, level);
  }

  async listen(): Promise<void> {
    const pending: Promise<unknown>[] = [];
    for (const probe of this.probes) pending.push(probe.startNotifications());
    await Promise.all(pending);
  }

  async characteristics(service: BluetoothRemoteGATTService, uuids: string[]): Promise<void> {
    await Promise.allSettled(uuids.map(async (uuid) => {
      const characteristic = await service.getCharacteristic(uuid);
      await characteristic.readValue();
    }));
  }
}

declare function show(...views: DataView[]): void;
