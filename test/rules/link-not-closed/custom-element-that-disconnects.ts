export class ScaleElement extends HTMLElement {
  private server: BluetoothRemoteGATTServer | undefined;

  connectedCallback(): void {
    this.addEventListener('click', () => {
      this.open().catch((error: unknown) => console.warn(error));
    });
  }

  disconnectedCallback(): void {
    this.server?.disconnect();
  }

  private async open(): Promise<void> {
    const device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
    this.server = await device.gatt!.connect();
  }
}
