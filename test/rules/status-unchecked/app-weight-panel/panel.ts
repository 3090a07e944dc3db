import { Scale } from './scale.js';

export class Panel {
  private scale?: Scale;
  private stop?: () => Promise<void>;

  constructor(private readonly root: HTMLElement) {
    this.button('connect').addEventListener('click', () => this.guarded(() => this.connect()));
    this.button('tare').addEventListener('click', () => this.guarded(async () => this.scale?.tare()));
    this.button('read').addEventListener('click', this.read);
    this.button('stop').addEventListener('click', this.halt.bind(this));
    this.button('zero').onclick = () => this.zero(); //! start-result-unchecked warning
    window.addEventListener('pagehide', () => this.close());
  }

  private async connect(): Promise<void> {
    const device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }], optionalServices: ['df070100-7563-45da-9adc-777135148d9e'] });
    this.scale = await Scale.open(device);
    this.stop = await this.scale.watch(grams => this.show(`${grams} g`));
  }

  private read = async (): Promise<void> => {
    const grams = await this.scale!.read(); //! status-unchecked warning
    this.show(`${grams} g`);
  };

  private async halt(): Promise<void> {
    await this.stop?.().catch(error => this.show(String(error)));
  }

  private async zero(): Promise<void> {
    await this.scale?.tare();
    await this.scale?.read();
  }

  private close(): void {
    this.scale?.close();
  }

  private guarded(work: () => Promise<void>): void {
    work().catch(error => this.show(String(error)));
  }

  private show(text: string): void {
    this.root.querySelector('output')!.textContent = text;
  }

  private button(name: string): HTMLButtonElement {
    return this.root.querySelector<HTMLButtonElement>(`button[name=${name}]`)!;
  }
}
