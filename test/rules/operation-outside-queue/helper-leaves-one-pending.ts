async function open(service: BluetoothRemoteGATTService, uuid: string): Promise<BluetoothRemoteGATTCharacteristic> {
  const characteristic = await service.getCharacteristic(uuid);
  characteristic.startNotifications().catch(console.warn);
  return characteristic;
}

export async function start(service: BluetoothRemoteGATTService): Promise<DataView> {
  const weight = await open(service, 'df070101-7563-45da-9adc-777135148d9e');
  return weight.readValue(); //! operation-outside-queue warning
}
