const HIVE = 'df070100-7563-45da-9adc-777135148d9e';
const WEIGHT = 'df070101-7563-45da-9adc-777135148d9e';

/** A scale without that service stays connected. */
export async function weigh(): Promise<number[]> {
  const weights: number[] = [];
  for (const device of await navigator.bluetooth.getDevices()) weights.push(await weighOne(device));
  return weights;
}

async function weighOne(device: BluetoothDevice): Promise<number> {
  const server = await device.gatt!.connect();
  try {
    const hive = await server.getPrimaryService(HIVE);
    const weight = await hive.getCharacteristic(WEIGHT);
    const value = await weight.readValue();
    return value.getUint32(0, true);
  } finally {
    server.disconnect();
  }
}
