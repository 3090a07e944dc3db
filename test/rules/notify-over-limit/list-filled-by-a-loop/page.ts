const CELLS = [
  'df070111-7563-45da-9adc-777135148d9e', 'df070112-7563-45da-9adc-777135148d9e',
  'df070113-7563-45da-9adc-777135148d9e', 'df070114-7563-45da-9adc-777135148d9e',
];
const ALARM = 'df070103-7563-45da-9adc-777135148d9e';

/** Looked up in one loop, subscribed in another: four, and the alarm. */
export async function listen(service: BluetoothRemoteGATTService, told: (cell: number, value: DataView) => void): Promise<void> {
  const cells: BluetoothRemoteGATTCharacteristic[] = [];
  for (const uuid of CELLS) cells.push(await service.getCharacteristic(uuid));
  const alarm = await service.getCharacteristic(ALARM);
  for (const [number, cell] of cells.entries()) {
    cell.addEventListener('characteristicvaluechanged', () => {
      if (cell.value) told(number, cell.value);
    });
    await cell.startNotifications();
  }
  await alarm.startNotifications(); //! notify-over-limit warning
}

/** Only those that are wanted: how many, nobody can say. */
export async function listenTo(service: BluetoothRemoteGATTService, wanted: ReadonlySet<string>): Promise<void> {
  const cells: BluetoothRemoteGATTCharacteristic[] = [];
  for (const uuid of CELLS) if (wanted.has(uuid)) cells.push(await service.getCharacteristic(uuid));
  for (const cell of cells) await cell.startNotifications();
  await (await service.getCharacteristic(ALARM)).startNotifications();
}
