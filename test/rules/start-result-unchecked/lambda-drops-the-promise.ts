export class Panel {
  constructor(private readonly weight: BluetoothRemoteGATTCharacteristic, private readonly all: BluetoothRemoteGATTCharacteristic[]) {}

  later() {
    setTimeout(() => this.weight.readValue(), 100); //! start-result-unchecked warning
    setInterval(() => { this.weight.readValue(); }, 1000); //! start-result-unchecked warning
    queueMicrotask(() => this.refresh()); //! start-result-unchecked warning
  }

  each() {
    this.all.forEach(it => it.startNotifications()); //! start-result-unchecked warning
    this.all.map(it => it.startNotifications()); //! start-result-unchecked warning
  }

  listen(button: HTMLButtonElement) {
    button.addEventListener('click', () => this.weight.readValue()); //! start-result-unchecked warning
    button.onclick = () => this.refresh(); //! start-result-unchecked warning
    button.ondblclick = () => { this.refresh(); }; //! start-result-unchecked warning
    const read = () => this.refresh(); //! start-result-unchecked warning
    button.addEventListener('keydown', read);
    button.addEventListener('keyup', this.handle);
  }

  listenWell(button: HTMLButtonElement) {
    button.addEventListener('click', () => this.weight.readValue().catch(console.error));
    button.onclick = () => this.refresh().then(console.log, console.error);
    button.ondblclick = () => { this.refresh().catch(console.error); };
  }

  private handle = () => this.refresh(); //! start-result-unchecked warning

  private async refresh() {
    return await this.weight.readValue();
  }
}
