/**
 * Assigned numbers: UUIDs of services, characteristics, descriptors and members, company identifiers, appearance values,
 * and the list of attributes that Web Bluetooth withholds. UUIDs are compared in one form only, 128-bit lower-case text.
 */
import { appearanceRows, blockedManufacturerRows, blocklistRows, companyRows, numberFiles, type BlockedManufacturerData, type BlocklistEntry, type NumberFile } from './data.js';
import type { AssignedNumber } from './types.js';

/** What follows the first 32 bits of every assigned UUID (Core Specification, Vol 3, Part B, 2.5.1). */
const BASE = '-0000-1000-8000-00805f9b34fb';

/**
 * A UUID in its 128-bit lower-case form.
 *
 * @param short a 16- or 32-bit number, or hexadecimal text of 4, 8 or 32 digits, the latter with or without hyphens
 * @returns undefined for text that is no UUID and for numbers beyond 32 bits
 */
export function canonicalUuid(short: number | string): string | undefined {
  if (typeof short === 'number') {
    return Number.isInteger(short) && short >= 0 && short <= 0xffffffff ? short.toString(16).padStart(8, '0') + BASE : undefined;
  }
  const text = short.toLowerCase();
  if (/^(0x)?([0-9a-f]{4}|[0-9a-f]{8})$/.test(text)) return text.replace('0x', '').padStart(8, '0') + BASE;
  const match = /^([0-9a-f]{8})-?([0-9a-f]{4})-?([0-9a-f]{4})-?([0-9a-f]{4})-?([0-9a-f]{12})$/.exec(text);
  return match === null ? undefined : match.slice(1).join('-');
}

/** {@link canonicalUuid} for what is known to be a UUID. @throws RangeError for anything else */
export function expandUuid(short: number | string): string {
  const uuid = canonicalUuid(short);
  if (uuid === undefined) throw new RangeError(`no UUID: ${short}`);
  return uuid;
}

/** The 16-bit number of an assigned UUID, or undefined when it has none. */
export function shortUuid(uuid128: string): number | undefined {
  const match = /^0000([0-9a-f]{4})-0000-1000-8000-00805f9b34fb$/.exec(uuid128);
  return match?.[1] === undefined ? undefined : Number.parseInt(match[1], 16);
}

let byUuid: Map<string, AssignedNumber[]> | undefined;

function numbers(): Map<string, AssignedNumber[]> {
  if (byUuid !== undefined) return byUuid;
  byUuid = new Map();
  for (const file of numberFiles) {
    for (const [key, row] of Object.entries(file.numbers)) {
      const uuid = uuidOfKey(key);
      const identifier = row.id === undefined ? {} : { identifier: (file.prefix ?? '') + row.id };
      const entry: AssignedNumber = { kind: row.kind ?? file.kind, uuid, name: row.name, ...identifier, origin: row.origin ?? file.origin };
      byUuid.set(uuid, [...(byUuid.get(uuid) ?? []), entry]);
    }
  }
  return byUuid;
}

/** A short number's key is decimal text once the file is a module. */
function uuidOfKey(key: string): string {
  return expandUuid(/^\d+$/.test(key) ? Number(key) : key);
}

/** What is assigned to a UUID; several when different kinds share it. */
export function assignedNumbers(uuid128: string): readonly AssignedNumber[] {
  return numbers().get(uuid128.toLowerCase()) ?? [];
}

export function allAssignedNumbers(): readonly AssignedNumber[] {
  return [...numbers().values()].flat();
}

const webNames = new Map<NumberFile['kind'], Map<string, string>>();

/**
 * The UUID behind one of Web Bluetooth's standard names (`heart_rate`, `gatt.client_characteristic_configuration`), or
 * undefined for a name that browsers answer with a TypeError.
 */
export function webBluetoothName(kind: 'service' | 'characteristic' | 'descriptor', name: string): string | undefined {
  let names = webNames.get(kind);
  if (names === undefined) {
    names = new Map();
    for (const file of numberFiles) {
      if (file.kind !== kind) continue;
      for (const [key, { id, web }] of Object.entries(file.numbers)) {
        const accepted = web === true ? id : web;
        if (accepted !== undefined) names.set(accepted, uuidOfKey(key));
      }
    }
    webNames.set(kind, names);
  }
  return names.get(name);
}

/** The company of a 16-bit company identifier, as in manufacturer data. */
export function companyName(id: number): string | undefined {
  return companyRows[id];
}

/** An appearance value's name: bits 15–6 are the category, bits 5–0 the subcategory. */
export function appearanceName(value: number): string | undefined {
  const category = appearanceRows[value >> 6];
  if (category === undefined) return undefined;
  const sub = value & 0x3f;
  if (sub === 0) return category.name;
  const name = category.sub?.[sub];
  return name === undefined ? undefined : `${category.name}: ${name}`;
}

/** What Web Bluetooth withholds from pages. */
export function blocklist(): readonly BlocklistEntry[] {
  return blocklistRows;
}

export function blocklisted(uuid128: string): BlocklistEntry | undefined {
  return blocklistRows.find((entry) => entry.uuid === uuid128.toLowerCase());
}

/** Manufacturer data that Web Bluetooth withholds from pages. */
export function blockedManufacturerData(): readonly BlockedManufacturerData[] {
  return blockedManufacturerRows;
}
