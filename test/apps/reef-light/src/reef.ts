import { CHANNELS, CLOCK, encodeLevel, encodeTime, FAN, LAMP_TEMPERATURE, level, LIGHT } from './attributes';

export interface Reef {
  readonly name: string;
  /** Permille, in the order of the colours. */
  readLevels(): Promise<number[]>;
  setLevel(colour: number, permille: number): Promise<void>;
  setClock(seconds: number): Promise<void>;
  /** Calls back with each change until the light is let go. */
  watch(watcher: Watcher): Promise<void>;
  leave(): void;
}

export interface Watcher {
  onLevel(colour: number, permille: number): void;
  onFan(rounds: number): void;
  onLamp(celsius: number): void;
}

/** Every operation takes its turn through here: the browser refuses a second one while the first is under way. */
function createTurns(): <T>(operation: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (operation) => {
    const mine = last.then(operation, operation);
    last = mine.catch(() => {});
    return mine;
  };
}

export async function openReef(device: BluetoothDevice, onLost: () => void): Promise<Reef> {
  const { gatt } = device;
  if (!gatt) throw new Error('This light does not speak GATT.');
  const server = await gatt.connect();
  device.addEventListener('gattserverdisconnected', onLost);

  const listening = new AbortController();
  const leave = (): void => {
    listening.abort();
    device.removeEventListener('gattserverdisconnected', onLost);
    server.disconnect();
  };

  try {
    const light = await server.getPrimaryService(LIGHT);
    const channels: BluetoothRemoteGATTCharacteristic[] = [];
    for (const uuid of CHANNELS) channels.push(await light.getCharacteristic(uuid));
    const fan = await light.getCharacteristic(FAN);
    const lamp = await light.getCharacteristic(LAMP_TEMPERATURE);
    const clock = await light.getCharacteristic(CLOCK);
    const turn = createTurns();

    const listen = async (
      characteristic: BluetoothRemoteGATTCharacteristic,
      onValue: (value: DataView) => void,
    ): Promise<void> => {
      const { signal } = listening;
      characteristic.addEventListener(
        'characteristicvaluechanged',
        () => {
          if (characteristic.value) onValue(characteristic.value);
        },
        { signal },
      );
      await turn(() => characteristic.startNotifications());
    };

    return {
      name: device.name ?? 'Reef Light',
      async readLevels() {
        const levels: number[] = [];
        for (const channel of channels) levels.push(level(await turn(() => channel.readValue())));
        return levels;
      },
      setLevel: (colour, permille) => turn(() => channels[colour]!.writeValueWithResponse(encodeLevel(permille))),
      setClock: (seconds) => turn(() => clock.writeValueWithResponse(encodeTime(seconds))),
      async watch(watcher) {
        for (const [colour, channel] of channels.entries()) {
          await listen(channel, (value) => watcher.onLevel(colour, level(value)));
        }
        await listen(fan, (value) => watcher.onFan(value.getUint16(0, true)));
        await listen(lamp, (value) => watcher.onLamp(value.getInt16(0, true) / 100));
      },
      leave,
    };
  } catch (error) {
    leave();
    throw error;
  }
}
