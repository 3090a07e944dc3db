export class Dfu {
  constructor(private readonly control: BluetoothRemoteGATTCharacteristic, private readonly packets: Uint8Array[]) {
    control.addEventListener('characteristicvaluechanged', (event) => this.onReply((event.target as BluetoothRemoteGATTCharacteristic).value!));
  }

  private onReply(view: DataView): void {
    if (view.getUint8(0) === 0x60) {
      this.sendPacket(view.getUint8(1)).catch(console.warn);
    }
  }

  private async sendPacket(index: number): Promise<void> {
    await this.control.writeValueWithoutResponse(this.packets[index]!); //! operation-outside-queue hint
  }
}
