export function writer(control: BluetoothRemoteGATTCharacteristic): WritableStream<Uint8Array> {
  return new WritableStream<Uint8Array>({
    async write(chunk) {
      for (let at = 0; at < chunk.length; at += 20) await control.writeValueWithoutResponse(chunk.subarray(at, at + 20));
    },
  });
}
