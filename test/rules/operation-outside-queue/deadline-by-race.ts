const wait = (ms: number): Promise<never> => new Promise((_, reject) => setTimeout(() => reject(new Error('late')), ms));

export async function read(device: BluetoothDevice): Promise<number> {
  const server = await Promise.race([device.gatt!.connect(), wait(10_000)]);
  const service = await Promise.race([server.getPrimaryService('battery_service'), wait(5_000)]);
  const level = await Promise.race([service.getCharacteristic('battery_level'), wait(5_000)]);
  return (await level.readValue()).getUint8(0);
}
