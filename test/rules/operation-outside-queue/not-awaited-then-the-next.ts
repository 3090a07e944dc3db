export async function setUp(weight: BluetoothRemoteGATTCharacteristic, battery: BluetoothRemoteGATTCharacteristic): Promise<number> {
  weight.startNotifications().catch(console.warn);
  const level = await battery.readValue(); //! operation-outside-queue warning
  return level.getUint8(0);
}

export function tareAndRead(command: BluetoothRemoteGATTCharacteristic, weight: BluetoothRemoteGATTCharacteristic): void {
  command.writeValueWithResponse(Uint8Array.of(1)).then(() => console.log('zero'), console.warn);
  weight.readValue().then(console.log, console.warn); //! operation-outside-queue warning
}
