export async function set(control: BluetoothRemoteGATTCharacteristic, bytes: Uint8Array, fast: boolean): Promise<void> {
  const write = fast
    ? control.writeValueWithoutResponse(bytes) //! operation-outside-queue hint
    : control.writeValueWithResponse(bytes); //! operation-outside-queue hint
  await write;
  if (control.properties.notify) {
    await control.startNotifications(); //! operation-outside-queue hint
  } else if (control.properties.read) await control.readValue(); //! operation-outside-queue hint
  switch (bytes[0]) {
    case 1: return control.writeValueWithResponse(bytes); //! operation-outside-queue hint
    case 2:
      await control.readValue(); //! operation-outside-queue hint
      break;
    default:
      await control.stopNotifications(); //! operation-outside-queue hint
  }
}
