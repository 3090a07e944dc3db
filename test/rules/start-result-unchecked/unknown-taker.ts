import { runLater, onEvent } from 'some-library';

/** Nobody here knows what the library does with what its callback yields. */
export function go(weight: BluetoothRemoteGATTCharacteristic) {
  runLater(() => weight.readValue());
  onEvent(async () => {
    await weight.readValue();
  });
}
