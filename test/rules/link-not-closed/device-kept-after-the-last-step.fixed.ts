/** If the service is not there, the class has no device yet, and `disconnect()` finds nothing. */
export class HiveScale {
  private device: BluetoothDevice | undefined;
  private hive: BluetoothRemoteGATTService | undefined;

  async connect(): Promise<void> {
    const device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
    const server = await device.gatt!.connect();
    try {
      this.hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
      this.device = device;
    } catch (error) {
      server.disconnect();
      throw error;
    }
  }

  disconnect(): void {
    this.device?.gatt?.disconnect();
  }
}
