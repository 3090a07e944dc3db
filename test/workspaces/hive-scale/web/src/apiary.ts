import { HIVE_SERVICE, WEIGHT } from './gatt.js';
import { GattTail } from './tail.js';
import { formatWeight, parseWeight } from './values.js';

export interface Row {
  readonly name: string;
  readonly weight: string;
}

/** One line for each scale this browser knows; a hive out of reach gets a dash. */
export async function weighAll(): Promise<Row[]> {
  const rows: Row[] = [];
  for (const device of await navigator.bluetooth.getDevices()) {
    const name = device.name ?? device.id;
    try {
      rows.push({ name, weight: await weighOne(device) });
    } catch {
      rows.push({ name, weight: '–' });
    }
  }
  return rows;
}

async function weighOne(device: BluetoothDevice): Promise<string> {
  if (!device.gatt) return '–';
  const tail = new GattTail();
  const server = await device.gatt.connect();
  const hive = await tail.run(() => server.getPrimaryService(HIVE_SERVICE));
  const weight = await tail.run(() => hive.getCharacteristic(WEIGHT));
  return formatWeight(parseWeight(await tail.run(() => weight.readValue())));
}

export function showRows(table: HTMLTableSectionElement, rows: readonly Row[]): void {
  table.replaceChildren(
    ...rows.map(({ name, weight }) => {
      const line = document.createElement('tr');
      line.insertCell().textContent = name;
      line.insertCell().textContent = weight;
      return line;
    }),
  );
}
