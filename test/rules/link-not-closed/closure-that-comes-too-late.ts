export interface Scale {
  leave(): void;
}

/** `leave` is handed out at the end; if a step before that fails, nobody has it. */
async function open(device: BluetoothDevice): Promise<Scale> {
  const server = await device.gatt!.connect(); //! link-not-closed warning
  const leave = (): void => {
    server.disconnect();
  };
  const hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
  await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
  return { leave };
}

export async function choose(): Promise<Scale> {
  return open(await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] }));
}
