import {
  ALARM, BATTERY_LEVEL, BATTERY_SERVICE, COMMAND, Command, FRAME_PROBES, HIVE_SERVICE, LOAD_CELLS, SOUND_LEVEL, WEIGHT,
} from './gatt.js';
import { GattTail } from './tail.js';
import { parseFrame, parseWeight, type Weight } from './values.js';

export type Stop = () => void;

/** A connected scale. Everything it does on the air goes through its tail, in the order in which it was asked. */
export class HiveScale {
  private readonly lostListeners = new Set<() => void>();

  private constructor(
    readonly device: BluetoothDevice,
    readonly server: BluetoothRemoteGATTServer,
    readonly tail: GattTail,
    private readonly hive: BluetoothRemoteGATTService,
    private readonly weight: BluetoothRemoteGATTCharacteristic,
    private readonly command: BluetoothRemoteGATTCharacteristic,
    private readonly battery: BluetoothRemoteGATTCharacteristic,
    private readonly frames: readonly BluetoothRemoteGATTCharacteristic[],
  ) {
    device.addEventListener('gattserverdisconnected', this.onLost);
  }

  static async open(device: BluetoothDevice): Promise<HiveScale> {
    if (!device.gatt) throw new Error('This device does not speak GATT.');
    const server = await device.gatt.connect();
    const tail = new GattTail();
    try {
      return await tail.run(async () => {
        const hive = await server.getPrimaryService(HIVE_SERVICE);
        const weight = await hive.getCharacteristic(WEIGHT);
        const command = await hive.getCharacteristic(COMMAND);
        const frames: BluetoothRemoteGATTCharacteristic[] = [];
        for (const uuid of FRAME_PROBES) frames.push(await hive.getCharacteristic(uuid));
        const batteryService = await server.getPrimaryService(BATTERY_SERVICE);
        const battery = await batteryService.getCharacteristic(BATTERY_LEVEL);
        return new HiveScale(device, server, tail, hive, weight, command, battery, frames);
      });
    } catch (error) {
      server.disconnect();
      throw error;
    }
  }

  get name(): string {
    return this.device.name ?? 'Scale';
  }

  close(): void {
    this.device.removeEventListener('gattserverdisconnected', this.onLost);
    this.lostListeners.clear();
    this.server.disconnect();
  }

  onceLost(listener: () => void): Stop {
    this.lostListeners.add(listener);
    return () => this.lostListeners.delete(listener);
  }

  async readWeight(): Promise<Weight> {
    return parseWeight(await this.tail.run(() => this.weight.readValue()));
  }

  async readBattery(): Promise<number> {
    const view = await this.tail.run(() => this.battery.readValue());
    return view.getUint8(0);
  }

  /** All frames, in the order of the hive. */
  async readFrames(): Promise<(number | undefined)[]> {
    const views = await Promise.all(this.frames.map((frame) => frame.readValue()));
    return views.map(parseFrame);
  }

  tare(): Promise<void> {
    return this.tail.run(() => this.command.writeValueWithResponse(Command.tare));
  }

  /** Lets the light blink for ten seconds. */
  async identify(): Promise<void> {
    await this.command.writeValueWithResponse(Command.identify);
  }

  /** Calls back with each new weight until stopped. */
  async watchWeight(listener: (weight: Weight) => void): Promise<Stop> {
    const onValue = (): void => {
      if (this.weight.value) listener(parseWeight(this.weight.value));
    };
    this.weight.addEventListener('characteristicvaluechanged', onValue);
    await this.tail.run(() => this.weight.startNotifications());
    return () => {
      this.weight.removeEventListener('characteristicvaluechanged', onValue);
      if (this.server.connected) this.tail.run(() => this.weight.stopNotifications()).catch(console.warn);
    };
  }

  watchFrames(listener: (frame: number, degrees: number | undefined) => void): void {
    this.frames.forEach(async (frame, index) => {
      try {
        await frame.startNotifications();
        frame.addEventListener('characteristicvaluechanged', () => {
          if (frame.value) listener(index, parseFrame(frame.value));
        });
      } catch (error) {
        console.warn(`frame ${index + 1} stays silent`, error);
      }
    });
  }

  /** Everything there is, for the university's recordings. They use a laptop. */
  async record(sink: (uuid: string, value: DataView) => void): Promise<void> {
    for (const uuid of [...FRAME_PROBES, ...LOAD_CELLS, WEIGHT, SOUND_LEVEL, ALARM]) {
      const channel = await this.tail.run(() => this.hive.getCharacteristic(uuid));
      channel.addEventListener('characteristicvaluechanged', () => {
        if (channel.value) sink(uuid, channel.value);
      });
      await this.tail.run(() => channel.startNotifications());
    }
  }

  private readonly onLost = (): void => {
    for (const listener of [...this.lostListeners]) listener();
  };
}
