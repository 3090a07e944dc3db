export function read(device: BluetoothDevice): Promise<number> {
  return device.gatt!.connect()
    .then((server) => server.getPrimaryService('battery_service'))
    .then((service) => service.getCharacteristic('battery_level'))
    .then((characteristic) => characteristic.startNotifications().then(() => characteristic.readValue()))
    .then((view) => view.getUint8(0));
}

export function readSlowly(weight: BluetoothRemoteGATTCharacteristic, command: BluetoothRemoteGATTCharacteristic): Promise<void> {
  return new Promise((resolve, reject) => {
    weight.readValue() //! operation-outside-queue hint
      .then(() => command.writeValueWithResponse(Uint8Array.of(1))) //! operation-outside-queue hint
      .then(resolve, reject);
  });
}
