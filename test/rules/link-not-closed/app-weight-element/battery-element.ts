/** Connects on its own, and goes without letting go. */
export class BatteryElement extends HTMLElement {
  private server: BluetoothRemoteGATTServer | undefined;

  connectedCallback(): void {
    this.addEventListener('click', this.show);
  }

  disconnectedCallback(): void {
    this.removeEventListener('click', this.show);
  }

  private readonly show = async (): Promise<void> => {
    try {
      const device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }], optionalServices: ['battery_service'] });
      this.server = await device.gatt!.connect(); //! link-not-closed warning
      const service = await this.server.getPrimaryService('battery_service');
      const level = await service.getCharacteristic('battery_level');
      this.textContent = `${(await level.readValue()).getUint8(0)} %`;
    } catch (error) {
      this.textContent = String(error);
    }
  };
}
