export async function listenToAll(service: BluetoothRemoteGATTService, uuids: string[]): Promise<void> {
  const found = new Map<string, BluetoothRemoteGATTCharacteristic>();
  for (const uuid of uuids) {
    const probe = await service.getCharacteristic(uuid);
    await probe.startNotifications();
    found.set(uuid, probe);
  }
}
