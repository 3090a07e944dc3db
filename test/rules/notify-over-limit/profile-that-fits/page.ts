const CHANNELS = Array.from({ length: 20 }, (_, i) => `df0701${(16 + i).toString(16)}-7563-45da-9adc-777135148d9e`);

/** The page does not run on Android, and no other system has such a limit. */
export async function listen(service: BluetoothRemoteGATTService): Promise<void> {
  for (const uuid of CHANNELS) await (await service.getCharacteristic(uuid)).startNotifications();
}
