export function attach(read: HTMLButtonElement, tare: HTMLButtonElement, weight: BluetoothRemoteGATTCharacteristic, command: BluetoothRemoteGATTCharacteristic): void {
  read.addEventListener('click', async () => {
    await weight.readValue(); //! operation-outside-queue hint
  });
  tare.onclick = () => {
    command.writeValueWithResponse(Uint8Array.of(1)).catch(console.warn); //! operation-outside-queue hint
  };
}
