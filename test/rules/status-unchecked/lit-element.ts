import { LitElement, html } from 'lit';
import { customElement } from 'lit/decorators.js';

@customElement('hive-weight')
export class Weight extends LitElement {
  weight!: BluetoothRemoteGATTCharacteristic;

  async connectedCallback() {
    super.connectedCallback();
    await this.weight.startNotifications(); //! status-unchecked warning
  }

  private async read() {
    await this.weight.readValue(); //! status-unchecked warning
  }

  private async tare() {
    try {
      await this.weight.writeValue(new Uint8Array([1]));
    } catch (error) {
      console.error(error);
    }
  }

  render() {
    return html`<button @click=${this.read}>Read</button><button @click=${() => this.tare()}>Tare</button>`;
  }
}
