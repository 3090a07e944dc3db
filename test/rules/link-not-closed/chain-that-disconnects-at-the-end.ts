export function readOnce(device: BluetoothDevice): Promise<DataView> {
  return device.gatt!
    .connect()
    .then((server) => server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e'))
    .then((hive) => hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e'))
    .then((weight) => weight.readValue())
    .finally(() => device.gatt?.disconnect());
}

export async function readAll(devices: readonly BluetoothDevice[]): Promise<DataView[]> {
  return Promise.all(devices.map(readOnce));
}
