import {
  BATTERY_LEVEL, BATTERY_SERVICE, BUZZER, decodeTargets, encodeTargets, parseReading, ROAST_SERVICE, TARGETS, TEMPERATURES,
  type Reading,
} from './gatt.js';

type Job<T> = () => Promise<T>;

interface Attributes {
  readonly temperatures: BluetoothRemoteGATTCharacteristic;
  readonly targets: BluetoothRemoteGATTCharacteristic;
  readonly buzzer: BluetoothRemoteGATTCharacteristic;
  readonly battery: BluetoothRemoteGATTCharacteristic | undefined;
}

export class NotConnected extends Error {
  constructor() {
    super('The thermometer is not connected.');
  }
}

/**
 * One thermometer. Its methods may be called at any time and in any number: each waits on {@link tail} for the ones before.
 * Events: `reading` (detail: Reading) and `gone`.
 */
export class Thermometer extends EventTarget {
  private tail: Promise<void> = Promise.resolve();
  private attributes: Attributes | undefined;

  constructor(private readonly device: BluetoothDevice) {
    super();
    device.addEventListener('gattserverdisconnected', this.onDisconnected);
  }

  static async choose(): Promise<Thermometer> {
    const device = await navigator.bluetooth.requestDevice({
      filters: [{ services: [ROAST_SERVICE] }],
      optionalServices: [BATTERY_SERVICE],
    });
    return new Thermometer(device);
  }

  get name(): string {
    return this.device.name ?? 'Thermometer';
  }

  get connected(): boolean {
    return this.attributes !== undefined;
  }

  /** Connects and listens to both probes. A link that was set up half is given back. */
  async connect(): Promise<void> {
    await this.enqueue(async () => {
      const { gatt } = this.device;
      if (!gatt) throw new NotConnected();
      const server = await gatt.connect();
      try {
        const attributes = await discover(server);
        attributes.temperatures.addEventListener('characteristicvaluechanged', this.onTemperature);
        await attributes.temperatures.startNotifications();
        this.attributes = attributes;
      } catch (error) {
        server.disconnect();
        throw error;
      }
    });
  }

  readTargets(): Promise<[number, number]> {
    return this.enqueue(async () => decodeTargets(await this.open().targets.readValue()));
  }

  setTargets(targets: readonly [number, number]): Promise<void> {
    return this.enqueue(() => this.open().targets.writeValueWithResponse(encodeTargets(targets)));
  }

  /** Percent; undefined if this model does not tell. */
  async readBattery(): Promise<number | undefined> {
    return await this.enqueue(async () => {
      const value = await this.open().battery?.readValue();
      return value?.getUint8(0);
    });
  }

  /** Three short tones: where is it? */
  async buzz(): Promise<void> {
    for (let tone = 0; tone < 3; tone++) {
      await this.enqueue(() => this.open().buzzer.writeValueWithoutResponse(Uint8Array.of(1)));
      await pause(400);
    }
  }

  dispose(): void {
    this.device.removeEventListener('gattserverdisconnected', this.onDisconnected);
    this.attributes?.temperatures.removeEventListener('characteristicvaluechanged', this.onTemperature);
    this.attributes = undefined;
    this.device.gatt?.disconnect();
  }

  private open(): Attributes {
    if (!this.attributes) throw new NotConnected();
    return this.attributes;
  }

  /** The caller gets the failure; the next in line does not. */
  private enqueue<T>(job: Job<T>): Promise<T> {
    const result = this.tail.then(job);
    this.tail = result.then(
      () => undefined,
      () => undefined,
    );
    return result;
  }

  private readonly onTemperature = (event: Event): void => {
    const { value } = event.target as BluetoothRemoteGATTCharacteristic;
    const reading = value && parseReading(value, Date.now());
    if (reading) this.dispatchEvent(new CustomEvent<Reading>('reading', { detail: reading }));
  };

  private readonly onDisconnected = (): void => {
    this.attributes = undefined;
    this.dispatchEvent(new Event('gone'));
  };
}

async function discover(server: BluetoothRemoteGATTServer): Promise<Attributes> {
  const roast = await server.getPrimaryService(ROAST_SERVICE);
  const temperatures = await roast.getCharacteristic(TEMPERATURES);
  const targets = await roast.getCharacteristic(TARGETS);
  const buzzer = await roast.getCharacteristic(BUZZER);
  let battery: BluetoothRemoteGATTCharacteristic | undefined;
  try {
    const service = await server.getPrimaryService(BATTERY_SERVICE);
    battery = await service.getCharacteristic(BATTERY_LEVEL);
  } catch (error) {
    if (!isMissing(error)) throw error;
  }
  return { temperatures, targets, buzzer, battery };
}

function isMissing(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'NotFoundError';
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}
