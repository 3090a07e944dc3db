export class Panel {
  constructor(private readonly weight: BluetoothRemoteGATTCharacteristic, private readonly all: BluetoothRemoteGATTCharacteristic[]) {}

  later() {
    setTimeout(() => this.weight.readValue().catch(onGattFailure), 100);
    setInterval(() => { this.weight.readValue(); }, 1000);
    queueMicrotask(() => this.refresh());
  }

  each() {
    this.all.forEach(it => it.startNotifications());
    this.all.map(it => it.startNotifications());
  }

  listen(button: HTMLButtonElement) {
    button.addEventListener('click', () => this.weight.readValue());
    button.onclick = () => this.refresh();
    button.ondblclick = () => { this.refresh(); };
    const read = () => this.refresh();
    button.addEventListener('keydown', read);
    button.addEventListener('keyup', this.handle);
  }

  listenWell(button: HTMLButtonElement) {
    button.addEventListener('click', () => this.weight.readValue().catch(console.error));
    button.onclick = () => this.refresh().then(console.log, console.error);
    button.ondblclick = () => { this.refresh().catch(console.error); };
  }

  private handle = () => this.refresh();

  private async refresh() {
    return await this.weight.readValue();
  }
}
