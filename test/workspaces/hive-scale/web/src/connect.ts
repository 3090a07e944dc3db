import { BATTERY_SERVICE, DEVICE_INFORMATION, FIRMWARE_SERVICE, HIVE_SERVICE, SETTINGS_SERVICE } from './gatt.js';
import { HiveScale } from './scale.js';

export interface ConnectView {
  readonly button: HTMLButtonElement;
  readonly status: HTMLElement;
}

/** Asks the user for a scale and connects to it; undefined if the user closed the chooser. */
export async function chooseScale(): Promise<HiveScale | undefined> {
  const services = [HIVE_SERVICE];
  const device = await navigator.bluetooth
    .requestDevice({
      filters: [{ services }],
      optionalServices: [SETTINGS_SERVICE, BATTERY_SERVICE, DEVICE_INFORMATION],
    })
    .catch((error: unknown) => {
      if (error instanceof DOMException && error.name === 'NotFoundError') return undefined;
      throw error;
    });
  return device && HiveScale.open(device);
}

/** A scale in its bootloader announces the firmware service instead of the measurements. */
export function chooseBootloader(): Promise<BluetoothDevice> {
  return navigator.bluetooth.requestDevice({
    filters: [{ services: [FIRMWARE_SERVICE] }],
    optionalServices: [DEVICE_INFORMATION],
  });
}

/** Wires the connect button and hands each new scale on. Returns what undoes the wiring. */
export function mountConnect(view: ConnectView, onScale: (scale: HiveScale) => void): () => void {
  let busy = false;

  const connect = async (): Promise<void> => {
    if (busy) return;
    busy = true;
    view.button.disabled = true;
    view.status.textContent = 'Connecting …';
    try {
      const scale = await chooseScale();
      if (!scale) {
        view.status.textContent = 'No scale chosen';
        return;
      }
      view.status.textContent = `Connected to ${scale.name}`;
      onScale(scale);
    } finally {
      busy = false;
      view.button.disabled = false;
    }
  };

  const onClick = (): void => {
    connect().catch((error: unknown) => {
      view.status.textContent = explain(error);
    });
  };

  view.button.addEventListener('click', onClick);
  return () => view.button.removeEventListener('click', onClick);
}

export function explain(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  switch (error.name) {
    case 'SecurityError':
      return 'The browser does not allow this page to use Bluetooth.';
    case 'NetworkError':
      return 'The scale is out of reach or was switched off.';
    case 'NotSupportedError':
      return 'This scale is too old for the dashboard.';
    default:
      return error.message;
  }
}
