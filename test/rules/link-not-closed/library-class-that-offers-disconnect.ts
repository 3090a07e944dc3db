/** Whoever uses the class may disconnect it; whether anybody does is not this file's affair. */
export class HiveScale {
  private device: BluetoothDevice | undefined;
  private hive: BluetoothRemoteGATTService | undefined;

  async connect(): Promise<void> {
    this.device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
    const server = await this.device.gatt!.connect();
    this.hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
  }

  disconnect(): void {
    this.device?.gatt?.disconnect();
  }
}
