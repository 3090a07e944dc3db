export async function set(control: BluetoothRemoteGATTCharacteristic, bytes: Uint8Array, fast: boolean): Promise<void> {
  const write = fast
    ? control.writeValueWithoutResponse(bytes) //! operation-outside-queue hint
    : control.writeValueWithResponse(bytes);
  await write;
  if (control.properties.notify) {
    await control.startNotifications();
  } else if (control.properties.read) await control.readValue();
  switch (bytes[0]) {
    case 1: return control.writeValueWithResponse(bytes);
    case 2:
      await control.readValue();
      break;
    default:
      await control.stopNotifications();
  }
}
