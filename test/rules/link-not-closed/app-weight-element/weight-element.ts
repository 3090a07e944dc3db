import { Scale } from './scale.js';

export class WeightElement extends HTMLElement {
  private scale: Scale | undefined;

  connectedCallback(): void {
    this.addEventListener('click', this.weigh);
  }

  disconnectedCallback(): void {
    this.removeEventListener('click', this.weigh);
    this.scale?.close();
  }

  private readonly weigh = async (): Promise<void> => {
    try {
      this.scale ??= await Scale.open(await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] }));
      this.textContent = String(await this.scale.read());
    } catch (error) {
      this.textContent = String(error);
    }
  };
}
