declare const device: BluetoothDevice;

try {
  await device.gatt!.connect();
} catch (error) {
  console.error(error);
}
export const server = await device.gatt!.connect().catch(() => undefined);
