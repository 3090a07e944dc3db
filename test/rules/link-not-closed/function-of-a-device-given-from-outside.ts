/** The device is the caller's, and so is its link. */
export async function services(device: BluetoothDevice): Promise<BluetoothRemoteGATTService[]> {
  if (!device.gatt) return [];
  const server = device.gatt.connected ? device.gatt : await device.gatt.connect();
  return server.getPrimaryServices();
}
