const HIVE = 'df070100-7563-45da-9adc-777135148d9e';
const CHANNELS = [
  'df070101-7563-45da-9adc-777135148d9e',
  'df070102-7563-45da-9adc-777135148d9e',
  'df070103-7563-45da-9adc-777135148d9e',
  'df070111-7563-45da-9adc-777135148d9e',
  'df070112-7563-45da-9adc-777135148d9e',
];

/** The page is to run on Android as well, where the browser is one GATT client like any app. */
export async function listen(server: BluetoothRemoteGATTServer, sink: (view: DataView) => void): Promise<void> {
  const service = await server.getPrimaryService(HIVE);
  for (const uuid of CHANNELS) {
    const channel = await service.getCharacteristic(uuid);
    channel.addEventListener('characteristicvaluechanged', () => {
      if (channel.value) sink(channel.value);
    });
    await channel.startNotifications(); //! notify-over-limit warning
  }
}
