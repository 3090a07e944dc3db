interface Repository {
  readValue(): Promise<DataView>;
  startNotifications(): Promise<void>;
  connect(): Promise<void>;
}

export class Elsewhere {
  constructor(private readonly repository: Repository, private readonly unknown: any) {}

  go() {
    this.repository.readValue();
    this.repository.startNotifications();
    this.unknown.writeValueWithResponse(new Uint8Array(1));
    this.unknown.gatt.connect();
    fetch('/weights');
    this.save();
  }

  private async save() {
    await fetch('/weights', { method: 'POST' });
  }
}
