export class Rpc {
  private waiting?: (view: DataView) => void;

  constructor(private readonly control: BluetoothRemoteGATTCharacteristic) {
    control.addEventListener('characteristicvaluechanged', () => this.waiting?.(control.value!));
  }

  /** The write has ended when the scale answers. */
  private async ask(bytes: number[]): Promise<DataView> {
    this.control.writeValueWithResponse(Uint8Array.from(bytes)).catch(console.warn); //! operation-outside-queue hint
    return new Promise((resolve) => {
      this.waiting = resolve;
    });
  }

  async info(): Promise<DataView[]> {
    const first = await this.ask([1]);
    const second = await this.ask([2]); //! operation-outside-queue hint
    return [first, second];
  }
}
