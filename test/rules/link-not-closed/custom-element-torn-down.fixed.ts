/** The element goes, the scale stays connected. */
export class ScaleElement extends HTMLElement {
  private server: BluetoothRemoteGATTServer | undefined;
  private timer = 0;

  connectedCallback(): void {
    this.addEventListener('click', () => {
      this.open().catch((error: unknown) => console.warn(error));
    });
  }

  disconnectedCallback(): void {
    this.server?.disconnect();
    clearInterval(this.timer);
  }

  private async open(): Promise<void> {
    const device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
    this.server = await device.gatt!.connect();
  }
}
