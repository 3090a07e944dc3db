const HIVE = 'df070100-7563-45da-9adc-777135148d9e';
const WEIGHT = 'df070101-7563-45da-9adc-777135148d9e';

/** A scale that is connected; whoever opens it closes it. */
export class Scale {
  private constructor(private readonly server: BluetoothRemoteGATTServer, private readonly weight: BluetoothRemoteGATTCharacteristic) {}

  static async open(device: BluetoothDevice): Promise<Scale> {
    const server = await device.gatt!.connect();
    try {
      const hive = await server.getPrimaryService(HIVE);
      return new Scale(server, await hive.getCharacteristic(WEIGHT));
    } catch (error) {
      server.disconnect();
      throw error;
    }
  }

  async read(): Promise<number> {
    return (await this.weight.readValue()).getUint32(0, true);
  }

  close(): void {
    this.server.disconnect();
  }
}
