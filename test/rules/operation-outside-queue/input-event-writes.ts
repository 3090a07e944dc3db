export class Dimmer {
  constructor(private readonly light: BluetoothRemoteGATTCharacteristic, slider: HTMLInputElement) {
    slider.addEventListener('input', () => slider.blur());
    slider.addEventListener('input', async (event) => {
      const level = Number((event.target as HTMLInputElement).value);
      await this.light.writeValue(Uint8Array.of(level)); //! operation-outside-queue warning
    });
    slider.addEventListener('change', (event) => this.set(Number((event.target as HTMLInputElement).value)));
  }

  private async set(level: number): Promise<void> {
    await this.light.writeValue(Uint8Array.of(level)); //! operation-outside-queue hint
  }
}
