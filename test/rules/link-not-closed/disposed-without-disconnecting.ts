/** A failed set-up is given back, a link that works is not: `dispose` only forgets. */
class Thermometer {
  private probe: BluetoothRemoteGATTCharacteristic | undefined;

  constructor(private readonly device: BluetoothDevice) {}

  async connect(): Promise<void> {
    const server = await this.device.gatt!.connect(); //! link-not-closed warning
    try {
      const service = await server.getPrimaryService('environmental_sensing');
      this.probe = await service.getCharacteristic('temperature');
    } catch (error) {
      server.disconnect();
      throw error;
    }
  }

  dispose(): void {
    this.probe = undefined;
  }
}

let current: Thermometer | undefined;

export async function begin(): Promise<void> {
  current = new Thermometer(await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] }));
  await current.connect();
}

export function end(): void {
  current?.dispose();
}
