export interface Scale {
  leave(): void;
}

async function open(device: BluetoothDevice): Promise<Scale> {
  const server = await device.gatt!.connect();
  const leave = (): void => {
    server.disconnect();
  };
  try {
    const hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
    await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
  } catch (error) {
    leave();
    throw error;
  }
  return { leave };
}

export async function choose(): Promise<Scale> {
  return open(await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] }));
}
