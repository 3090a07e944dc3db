export async function listenToAll(service: BluetoothRemoteGATTService, uuids: string[]): Promise<void> {
  const found = new Map<string, BluetoothRemoteGATTCharacteristic>();
  uuids.forEach(async (uuid) => {
    const probe = await service.getCharacteristic(uuid); //! operation-outside-queue warning
    await probe.startNotifications();
    found.set(uuid, probe);
  });
}
