const HIVE = 'df070100-7563-45da-9adc-777135148d9e';
const WEIGHT = 'df070101-7563-45da-9adc-777135148d9e';
const COMMAND = 'df070102-7563-45da-9adc-777135148d9e';

/** A library: what fails reaches whoever called. */
export class Scale {
  private last: Promise<unknown> = Promise.resolve();

  private constructor(
    private readonly server: BluetoothRemoteGATTServer,
    private readonly weight: BluetoothRemoteGATTCharacteristic,
    private readonly command: BluetoothRemoteGATTCharacteristic,
  ) {}

  static async open(device: BluetoothDevice): Promise<Scale> {
    const server = await device.gatt!.connect();
    try {
      const hive = await server.getPrimaryService(HIVE);
      const weight = await hive.getCharacteristic(WEIGHT);
      const command = await hive.getCharacteristic(COMMAND);
      return new Scale(server, weight, command);
    } catch (error) {
      server.disconnect();
      throw error;
    }
  }

  read(): Promise<number> {
    return this.inTurn(async () => (await this.weight.readValue()).getUint32(0, true));
  }

  tare(): Promise<void> {
    return this.inTurn(() => this.command.writeValueWithResponse(new Uint8Array([1])));
  }

  async watch(onWeight: (grams: number) => void): Promise<() => Promise<void>> {
    const show = () => onWeight(this.weight.value!.getUint32(0, true));
    this.weight.addEventListener('characteristicvaluechanged', show);
    await this.inTurn(() => this.weight.startNotifications());
    return async () => {
      this.weight.removeEventListener('characteristicvaluechanged', show);
      await this.inTurn(() => this.weight.stopNotifications());
    };
  }

  close(): void {
    this.server.disconnect();
  }

  private inTurn<T>(operation: () => Promise<T>): Promise<T> {
    const result = this.last.then(operation);
    this.last = result.catch(() => undefined);
    return result;
  }
}
