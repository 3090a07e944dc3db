const PROBES = ['df070121', 'df070122', 'df070123', 'df070124', 'df070125', 'df070126', 'df070127', 'df070128'].map(
  (start) => `${start}-7563-45da-9adc-777135148d9e`,
);
const CELLS = [
  'df070111-7563-45da-9adc-777135148d9e', 'df070112-7563-45da-9adc-777135148d9e', 'df070113-7563-45da-9adc-777135148d9e',
  'df070114-7563-45da-9adc-777135148d9e', 'df070115-7563-45da-9adc-777135148d9e', 'df070116-7563-45da-9adc-777135148d9e',
  'df070117-7563-45da-9adc-777135148d9e', 'df070118-7563-45da-9adc-777135148d9e',
];
const ALARM = 'df070103-7563-45da-9adc-777135148d9e';

export class Recorder {
  constructor(private readonly hive: BluetoothRemoteGATTService) {}

  /** Eight and eight are sixteen, of fifteen from Android 5.0 to 11. */
  async everything(): Promise<void> {
    for (const cell of CELLS) await this.watch(cell);
    for (let i = 0; i < 8; i++) await this.watch(PROBES[i]!); //! notify-over-limit warning
  }

  /** The eight cells, the alarm, and the cells again: nine. */
  async again(): Promise<void> {
    for (const cell of CELLS) await this.watch(cell);
    await this.watch(ALARM);
    for (const cell of CELLS) await this.watch(cell);
  }

  /** Stopped in between: never more than eight. */
  async inTurn(): Promise<void> {
    for (const cell of CELLS) await this.watch(cell);
    for (const cell of CELLS) await (await this.hive.getCharacteristic(cell)).stopNotifications();
    for (const probe of PROBES) await this.watch(probe);
  }

  private async watch(uuid: string): Promise<void> {
    const channel = await this.hive.getCharacteristic(uuid);
    await channel.startNotifications();
  }
}
