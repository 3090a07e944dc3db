import { explain } from './connect.js';
import { HIVE_NAME, SETTINGS, SETTINGS_SERVICE } from './gatt.js';
import type { GattTail } from './tail.js';
import { decodeText, encodeSettings, parseSettings, type Settings } from './values.js';

const NAME_BYTES = 20;

/** Reads and writes the settings. Shares the tail of the scale, so that a save never meets a reading half-way. */
export class SettingsWriter {
  private current: Settings | undefined;

  private constructor(
    private readonly tail: GattTail,
    private readonly settings: BluetoothRemoteGATTCharacteristic,
    private readonly name: BluetoothRemoteGATTCharacteristic,
  ) {}

  static async open(server: BluetoothRemoteGATTServer, tail: GattTail): Promise<SettingsWriter> {
    const service = await tail.run(() => server.getPrimaryService(SETTINGS_SERVICE));
    const settings = await tail.run(() => service.getCharacteristic(SETTINGS));
    const name = await tail.run(() => service.getCharacteristic(HIVE_NAME));
    return new SettingsWriter(tail, settings, name);
  }

  async load(): Promise<Settings> {
    const view = await this.tail.run(() => this.settings.readValue());
    this.current = parseSettings(view);
    return this.current;
  }

  async loadName(): Promise<string> {
    return decodeText(await this.tail.run(() => this.name.readValue()));
  }

  /** Does nothing when nothing has changed: the scale wears its flash with every write. */
  async save(settings: Settings): Promise<void> {
    if (this.current && JSON.stringify(this.current) === JSON.stringify(settings)) return;
    await this.tail.run(() => this.settings.writeValueWithResponse(encodeSettings(settings)));
    this.current = settings;
  }

  async rename(name: string): Promise<void> {
    const bytes = new TextEncoder().encode(name.trim());
    if (bytes.length > NAME_BYTES) throw new RangeError(`At most ${NAME_BYTES} bytes.`);
    await this.tail.run(async () => {
      this.name.writeValueWithResponse(bytes);
    });
  }
}

/** The form, as far as it concerns us. */
export class SettingsForm {
  constructor(private readonly form: HTMLFormElement) {}

  readValue(): Settings {
    const data = new FormData(this.form);
    return {
      intervalSeconds: Number(data.get('interval')),
      swarmLossGrams: Number(data.get('loss')) * 1000,
      tiltAlarm: data.get('tilt') === 'on',
    };
  }

  writeValue(settings: Settings): void {
    this.set('interval', String(settings.intervalSeconds));
    this.set('loss', String(settings.swarmLossGrams / 1000));
    const tilt = this.form.elements.namedItem('tilt');
    if (tilt instanceof HTMLInputElement) tilt.checked = settings.tiltAlarm;
  }

  private set(name: string, value: string): void {
    const field = this.form.elements.namedItem(name);
    if (field instanceof HTMLInputElement) field.value = value;
  }
}

export interface SettingsView {
  readonly form: HTMLFormElement;
  readonly name: HTMLInputElement;
  readonly note: HTMLElement;
}

export function mountSettings(view: SettingsView, writer: SettingsWriter): () => void {
  const form = new SettingsForm(view.form);
  const { note } = view;

  const onSubmit = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    note.textContent = 'Saving …';
    await writer.save(form.readValue());
    note.textContent = 'Saved';
  };

  const onReset = async (): Promise<void> => {
    try {
      form.writeValue(await writer.load());
      view.name.value = await writer.loadName();
    } catch (error) {
      note.textContent = explain(error);
    }
  };

  const onName = (): void => {
    writer.rename(view.name.value).then(
      () => (note.textContent = 'Renamed'),
      (error: unknown) => (note.textContent = explain(error)),
    );
  };

  view.form.addEventListener('submit', onSubmit);
  view.form.addEventListener('reset', onReset);
  view.name.addEventListener('change', onName);
  return () => {
    view.form.removeEventListener('submit', onSubmit);
    view.form.removeEventListener('reset', onReset);
    view.name.removeEventListener('change', onName);
  };
}
