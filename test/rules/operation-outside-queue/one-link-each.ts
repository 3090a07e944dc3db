export async function visit(devices: BluetoothDevice[]): Promise<void> {
  await Promise.all(devices.map((device) => readWeight(device)));
  devices.forEach(async (device) => {
    await device.gatt!.connect();
  });
}

async function readWeight(device: BluetoothDevice): Promise<DataView> {
  const server = await device.gatt!.connect();
  const service = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
  return (await service.getCharacteristic('df070101-7563-45da-9adc-777135148d9e')).readValue();
}
