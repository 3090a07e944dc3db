export async function tare(command: BluetoothRemoteGATTCharacteristic, device: BluetoothDevice) {
  if (!device.gatt?.connected) {
    throw new Error('not connected');
  }
  await command.writeValue(new Uint8Array([1]));
}

export function zero(command: BluetoothRemoteGATTCharacteristic, device: BluetoothDevice): Promise<void> {
  if (!device.gatt?.connected) return Promise.reject(new Error('not connected'));
  return command.writeValue(new Uint8Array([2]));
}

/** Nothing to do with a link. */
export function unrelated(ok: boolean) {
  if (!ok) Promise.reject(new Error('no'));
}
