import { Scale } from './scale.js';

export class Panel {
  constructor(private readonly scale: Scale, private readonly root: HTMLElement) {
    this.button('read', () => this.show(scale.read()));
    this.button('tare', () => this.show(scale.tareAndRead()));
    this.button('blink', () => scale.blink().catch(console.warn));
    root.querySelector('input')!.addEventListener('input', (event) => {
      scale.send(4, Number((event.target as HTMLInputElement).value)).catch(console.warn);
    });
  }

  leave(): void {
    this.scale.close();
    this.root.replaceChildren();
  }

  private button(name: string, act: () => void): void {
    this.root.querySelector(`.${name}`)!.addEventListener('click', () => act());
  }

  private show(view: Promise<DataView>): void {
    view.then((value) => { this.root.title = String(value.getUint16(0, true)); }, console.warn);
  }
}
