export async function writeAll(control: BluetoothRemoteGATTCharacteristic, chunks: Uint8Array[]): Promise<void> {
  await chunks.reduce((before, chunk) => before.then(() => control.writeValueWithResponse(chunk)), Promise.resolve()); //! operation-outside-queue hint
  await chunks.reduce(async (before, chunk) => {
    await before;
    await control.writeValueWithResponse(chunk); //! operation-outside-queue hint
  }, Promise.resolve());
  let tail = Promise.resolve();
  for (const chunk of chunks) tail = tail.then(() => control.writeValueWithResponse(chunk));
  await tail;
}
