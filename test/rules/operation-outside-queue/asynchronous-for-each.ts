export function listenToAll(probes: BluetoothRemoteGATTCharacteristic[]): void {
  probes.forEach(async (probe) => {
    try {
      await probe.startNotifications(); //! operation-outside-queue warning
    } catch (error) {
      console.warn(error);
    }
  });
}
