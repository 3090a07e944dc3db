import { Turns } from './turns.js';

export const HIVE = 'df070100-7563-45da-9adc-777135148d9e';
const WEIGHT = 'df070101-7563-45da-9adc-777135148d9e';
const COMMAND = 'df070102-7563-45da-9adc-777135148d9e';

export class Scale {
  private readonly turns = new Turns();

  private constructor(
    private readonly server: BluetoothRemoteGATTServer,
    private readonly weight: BluetoothRemoteGATTCharacteristic,
    private readonly command: BluetoothRemoteGATTCharacteristic,
  ) {}

  static async open(device: BluetoothDevice): Promise<Scale> {
    const server = await device.gatt!.connect();
    try {
      const service = await server.getPrimaryService(HIVE);
      const weight = await service.getCharacteristic(WEIGHT);
      const command = await service.getCharacteristic(COMMAND);
      await weight.startNotifications();
      return new Scale(server, weight, command);
    } catch (error) {
      server.disconnect();
      throw error;
    }
  }

  close(): void {
    this.server.disconnect();
  }

  read(): Promise<DataView> {
    return this.turns.take(() => this.weight.readValue());
  }

  send(...bytes: number[]): Promise<void> {
    return this.turns.take(() => this.command.writeValueWithResponse(Uint8Array.from(bytes)));
  }

  /** Both at once, but each in its turn. */
  async tareAndRead(): Promise<DataView> {
    const [, view] = await Promise.all([this.send(1), this.read()]);
    return view;
  }

  async blink(): Promise<void> {
    await this.command.writeValueWithoutResponse(Uint8Array.of(3)); //! operation-outside-queue warning
  }
}
