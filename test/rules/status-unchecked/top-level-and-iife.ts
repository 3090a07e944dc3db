declare const device: BluetoothDevice;
declare const weight: BluetoothRemoteGATTCharacteristic;

(async () => {
  await weight.readValue(); //! status-unchecked warning
  await weight.readValue();
})();

(async () => {
  await device.gatt!.connect();
})().catch(console.error);

void (async function main() {
  try {
    await device.gatt!.connect();
  } catch (error) {
    console.error(error);
  }
})();

await weight.startNotifications(); //! status-unchecked warning
