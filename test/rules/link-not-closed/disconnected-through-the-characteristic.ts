let weight: BluetoothRemoteGATTCharacteristic | undefined;

export async function start(): Promise<void> {
  const device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
  const server = await device.gatt!.connect();
  const hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e').catch((error: unknown) => {
    server.disconnect();
    throw error;
  });
  weight = await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
}

export function stop(): void {
  weight?.service.device.gatt?.disconnect();
}
