const PAUSE_MS = 0x180f;

/** Shows the battery level until the page is left. */
export async function showBattery(device: BluetoothDevice, show: (percent: number) => void): Promise<void> {
  const server = await device.gatt!.connect();
  try {
    const service = await server.getPrimaryService(0x180f);
    const level = await service.getCharacteristic('battery_level');
    const value = await level.readValue();
    show(value.getUint8(0));
    await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
  } finally {
    server.disconnect();
  }
}
