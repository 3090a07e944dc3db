export interface Open {
  readonly device: BluetoothDevice;
  readonly server: BluetoothRemoteGATTServer;
}

export async function open(): Promise<Open> {
  const device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
  const server = await device.gatt!.connect();
  return { device, server };
}
