import { Forecast } from './forecast.js';
import type { Probe, Reading } from './gatt.js';
import { Thermometer } from './thermometer.js';

const BATTERY_EVERY_MS = 120_000;
const RECONNECT_PAUSE_MS = 3_000;
const MOST_RECONNECTS = 5;

/** The whole page: one thermometer, two probes, two targets. */
export class RoastPage {
  private thermometer: Thermometer | undefined;
  private readonly forecasts = [new Forecast(), new Forecast()] as const;
  private targets: [number, number] = [55, 55];
  private batteryTimer: ReturnType<typeof setInterval> | undefined;
  private reconnects = 0;

  constructor(private readonly root: HTMLElement) {
    this.button('connect').addEventListener('click', this.onConnect);
    this.button('buzz').addEventListener('click', this.onBuzz);
    this.root.querySelector('form')?.addEventListener('submit', this.onTargets);
    window.addEventListener('pagehide', this.onPageHide);
  }

  private readonly onConnect = async (): Promise<void> => {
    this.button('connect').disabled = true;
    try {
      this.leave();
      const thermometer = await Thermometer.choose();
      thermometer.addEventListener('reading', this.onReading);
      thermometer.addEventListener('gone', this.onGone);
      this.thermometer = thermometer;
      this.reconnects = 0;
      await this.begin(thermometer);
    } catch (error) {
      this.say(explain(error));
    } finally {
      this.button('connect').disabled = false;
    }
  };

  private async begin(thermometer: Thermometer): Promise<void> {
    await thermometer.connect();
    this.targets = await thermometer.readTargets();
    this.say(`Connected to ${thermometer.name}`);
    this.showBattery(await thermometer.readBattery());
    clearInterval(this.batteryTimer);
    this.batteryTimer = setInterval(() => {
      thermometer.readBattery().then(
        (percent) => this.showBattery(percent),
        (error: unknown) => this.say(explain(error)),
      );
    }, BATTERY_EVERY_MS);
  }

  private readonly onReading = (event: Event): void => {
    const { detail } = event as CustomEvent<Reading>;
    this.forecasts[detail.probe].add(detail);
    this.showProbe(detail.probe);
  };

  /** A kitchen has thick walls: it comes back most of the time. */
  private readonly onGone = (): void => {
    clearInterval(this.batteryTimer);
    if (this.reconnects >= MOST_RECONNECTS) {
      this.say('The thermometer is out of reach.');
      return;
    }
    this.reconnects += 1;
    this.say('Out of reach, trying again …');
    setTimeout(() => void this.reconnect(), RECONNECT_PAUSE_MS);
  };

  private async reconnect(): Promise<void> {
    const { thermometer } = this;
    if (!thermometer || thermometer.connected) return;
    try {
      await this.begin(thermometer);
      this.reconnects = 0;
    } catch (error) {
      this.say(explain(error));
      this.onGone();
    }
  }

  private readonly onTargets = (event: SubmitEvent): void => {
    event.preventDefault();
    const data = new FormData(event.target as HTMLFormElement);
    const wanted: [number, number] = [Number(data.get('first')), Number(data.get('second'))];
    this.thermometer
      ?.setTargets(wanted)
      .then(() => {
        this.targets = wanted;
        this.showProbe(0);
        this.showProbe(1);
      })
      .catch((error: unknown) => this.say(explain(error)));
  };

  private readonly onBuzz = async (): Promise<void> => {
    try {
      await this.thermometer?.buzz();
    } catch (error) {
      this.say(explain(error));
    }
  };

  private readonly onPageHide = (): void => this.leave();

  private leave(): void {
    clearInterval(this.batteryTimer);
    this.thermometer?.removeEventListener('reading', this.onReading);
    this.thermometer?.removeEventListener('gone', this.onGone);
    this.thermometer?.dispose();
    this.thermometer = undefined;
  }

  // ---- What is shown ----

  private showProbe(probe: Probe): void {
    const forecast = this.forecasts[probe];
    const minutes = forecast.minutesTo(this.targets[probe]);
    const rest = minutes === undefined ? '' : minutes === 0 ? ', done' : `, done in ${minutes} min`;
    this.field(`probe-${probe}`).textContent = forecast.latest ? `${forecast.latest.celsius.toFixed(1)} °C${rest}` : '–';
  }

  private showBattery(percent: number | undefined): void {
    this.field('battery').textContent = percent === undefined ? '' : `${percent} %`;
  }

  private say(words: string): void {
    this.field('message').textContent = words;
  }

  private field(name: string): HTMLElement {
    const found = this.root.querySelector<HTMLElement>(`[data-field="${name}"]`);
    if (!found) throw new Error(`The page has no field ${name}.`);
    return found;
  }

  private button(name: string): HTMLButtonElement {
    const found = this.root.querySelector<HTMLButtonElement>(`button[name="${name}"]`);
    if (!found) throw new Error(`The page has no button ${name}.`);
    return found;
  }
}

export function explain(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  if (error.name === 'NotFoundError') return 'No thermometer chosen';
  if (error.name === 'NetworkError') return 'The thermometer does not answer';
  return error.message;
}

const main = document.querySelector('main');
if (main) new RoastPage(main);
