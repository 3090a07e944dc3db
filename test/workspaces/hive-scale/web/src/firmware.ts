import { explain } from './connect.js';
import {
  DEVICE_INFORMATION, FIRMWARE_CONTROL, FIRMWARE_DATA, FIRMWARE_REVISION, FIRMWARE_SERVICE, PAYLOAD,
} from './gatt.js';
import { GattTail } from './tail.js';
import { decodeText } from './values.js';

export interface FirmwareView {
  readonly version: HTMLElement;
  readonly check: HTMLButtonElement;
  readonly file: HTMLInputElement;
  readonly progress: HTMLProgressElement;
  readonly message: HTMLElement;
}

const BEGIN = 1;
const VERIFY = 3;

/** The page for a scale in its bootloader. The caller has chosen the device. */
export async function mountFirmware(view: FirmwareView, device: BluetoothDevice): Promise<void> {
  if (!device.gatt) throw new Error('This device does not speak GATT.');
  const tail = new GattTail();
  const server = await device.gatt.connect();
  const service = await tail.run(() => server.getPrimaryService(FIRMWARE_SERVICE));
  const control = await tail.run(() => service.getCharacteristic(FIRMWARE_CONTROL));
  const data = await tail.run(() => service.getCharacteristic(FIRMWARE_DATA));
  const information = await tail.run(() => server.getPrimaryService(DEVICE_INFORMATION));
  const revision = await tail.run(() => information.getCharacteristic(FIRMWARE_REVISION));

  control.addEventListener('characteristicvaluechanged', () => {
    if (control.value) view.message.textContent = describeReply(control.value);
  });
  await tail.run(() =>
    control.startNotifications().then(() => {
      control.writeValueWithResponse(Uint8Array.of(0));
    }),
  );

  view.check.addEventListener('click', async () => {
    const installed = await tail.run(() => revision.readValue());
    view.version.textContent = decodeText(installed);
  });

  view.file.addEventListener('change', async () => {
    const file = view.file.files?.[0];
    if (!file) return;
    view.file.disabled = true;
    try {
      const image = new Uint8Array(await file.arrayBuffer());
      await upload(image);
      view.message.textContent = 'Sent; the scale checks the image.';
    } catch (error) {
      view.message.textContent = explain(error);
    } finally {
      view.file.disabled = false;
    }
  });

  async function upload(image: Uint8Array<ArrayBuffer>): Promise<void> {
    view.progress.max = image.length;
    await tail.run(() => control.writeValueWithResponse(step(BEGIN, image.length)));
    for (let sent = 0; sent < image.length; sent += PAYLOAD) {
      const chunk = image.subarray(sent, sent + PAYLOAD);
      await tail.run(() => data.writeValueWithoutResponse(chunk));
      view.progress.value = sent + chunk.length;
    }
    await tail.run(() => control.writeValueWithResponse(step(VERIFY, checksum(image))));
  }
}

/** A step number and a 32-bit argument. */
function step(number: number, argument: number): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(5);
  const view = new DataView(bytes.buffer);
  view.setUint8(0, number);
  view.setUint32(1, argument, true);
  return bytes;
}

/** CRC-32 as in zip files. */
function checksum(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return ~crc >>> 0;
}

function describeReply(view: DataView): string {
  if (view.byteLength < 2) return 'The scale sent something unreadable.';
  return view.getUint8(1) === 0 ? `Step ${view.getUint8(0)} done` : `Step ${view.getUint8(0)} refused`;
}
