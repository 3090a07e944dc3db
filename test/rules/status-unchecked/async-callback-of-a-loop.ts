export async function start(all: BluetoothRemoteGATTCharacteristic[]) {
  all.forEach(async it => {
    await it.startNotifications(); //! status-unchecked warning
  });
  all.map(async it => {
    await it.startNotifications(); //! status-unchecked warning
  });
  await Promise.all(all.map(async it => {
    await it.startNotifications();
  }));
  setTimeout(async () => {
    await all[0]!.readValue(); //! status-unchecked warning
  }, 100);
}
