export async function connect(device: BluetoothDevice): Promise<string[]> {
  const server = await device.gatt!.connect();
  const service = await server.getPrimaryService('battery_service');
  const level = await (await service.getCharacteristic('battery_level')).readValue();
  const names: string[] = [];
  for (const characteristic of await service.getCharacteristics()) {
    const value = await characteristic.readValue();
    names.push(`${characteristic.uuid} ${value.byteLength}`);
  }
  try {
    const extra = await service.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
    await extra.startNotifications();
  } catch {
    console.warn('an old scale');
  }
  const last = await service.getCharacteristic('battery_level');
  names.push(parse(await last.readValue()), String(level.getUint8(0)));
  return names;
}

declare function parse(view: DataView): string;
