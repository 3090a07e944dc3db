export class Trainer {
  private last = 0;

  constructor(private readonly data: BluetoothRemoteGATTCharacteristic, private readonly control: BluetoothRemoteGATTCharacteristic) {}

  async start(): Promise<void> {
    this.data.addEventListener('characteristicvaluechanged', (event) => this.onData(event));
    await this.data.startNotifications(); //! operation-outside-queue hint
  }

  private onData(event: Event): void {
    const value = (event.target as BluetoothRemoteGATTCharacteristic).value;
    if (!value) return;
    const grade = value.getInt16(2, true) / 10;
    if (grade !== this.last) {
      this.setGrade(grade); //! operation-outside-queue warning
      this.last = grade;
    }
  }

  async setGrade(grade: number): Promise<void> {
    await this.control.writeValueWithResponse(Uint8Array.of(0x11, grade));
  }
}
