export class Panel {
  private busy = false;

  constructor(private readonly weight: BluetoothRemoteGATTCharacteristic, button: HTMLButtonElement) {
    button.addEventListener('click', () => this.read());
  }

  async read(): Promise<void> {
    if (this.busy) return;
    this.busy = true;
    try {
      console.log(await this.weight.readValue());
    } finally {
      this.busy = false;
    }
  }
}
