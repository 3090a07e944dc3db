export class Panel {
  private readonly onRead: () => Promise<void>;

  constructor(private readonly weight: BluetoothRemoteGATTCharacteristic, button: HTMLButtonElement) {
    this.onRead = this.read.bind(this);
    button.addEventListener('click', this.onRead);
    button.addEventListener('keydown', this.tare.bind(this));
    button.onclick = this.zero.bind(this);
    this.keep = this.keep.bind(this);
    button.addEventListener('blur', this.keep);
  }

  private async read() {
    await this.weight.readValue(); //! status-unchecked warning
  }

  private async tare() {
    await this.weight.writeValue(new Uint8Array([1])); //! status-unchecked warning
  }

  private async zero() {
    await this.weight.writeValue(new Uint8Array([2])); //! status-unchecked warning
  }

  private async keep() {
    await this.weight.writeValue(new Uint8Array([3])); //! status-unchecked warning
  }
}
