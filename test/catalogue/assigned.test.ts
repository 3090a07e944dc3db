/** Assigned numbers against two tables that were made independently of ours, and the rules that UUIDs follow. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  allAssignedNumbers, appearanceName, assignedNumbers, blockedManufacturerData, blocklist, blocklisted, canonicalUuid, companyName, expandUuid, shortUuid, webBluetoothName,
} from '../../server/catalogue/index.js';
import { catalogueFolder, sharedFile } from './files.js';

describe('UUIDs (Core Specification, Vol 3, Part B, 2.5.1; Web Bluetooth, BluetoothUUID.canonicalUUID)', () => {
  it('are expanded over the base UUID from every spelling', () => {
    const cccd = '00002902-0000-1000-8000-00805f9b34fb';
    for (const spelling of [0x2902, '2902', '0x2902', '00002902', '0X00002902', cccd, cccd.toUpperCase(), cccd.replaceAll('-', '')]) expect(expandUuid(spelling)).toBe(cccd);
    // A 32-bit alias fills the first group.
    expect(expandUuid(0xdeadbeef)).toBe('deadbeef-0000-1000-8000-00805f9b34fb');
    expect(shortUuid(cccd)).toBe(0x2902);
    expect(shortUuid('6e400001-b5a3-f393-e0a9-e50e24dcca9e')).toBeUndefined();
    expect(shortUuid('deadbeef-0000-1000-8000-00805f9b34fb')).toBeUndefined();
  });

  it('that are none are refused', () => {
    for (const text of ['', '29', '29023', 'heart_rate', 'g902', '00002902-0000-1000-8000-00805f9b34f', '{00002902-0000-1000-8000-00805f9b34fb}', -1, 1.5, 2 ** 32]) {
      expect(canonicalUuid(text), String(text)).toBeUndefined();
      expect(() => expandUuid(text)).toThrow(RangeError);
    }
  });

  it('stand once for each kind, in lower case', () => {
    const keys = allAssignedNumbers().map((each) => `${each.kind} ${each.uuid}`);
    expect(new Set(keys).size).toBe(keys.length);
    for (const each of allAssignedNumbers()) expect(each.uuid).toMatch(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/);
    expect(assignedNumbers('0000180D-0000-1000-8000-00805F9B34FB')[0]?.name).toBe('Heart Rate');
  });
});

/** Where the other table says something else, and why ours stands. */
const OTHER_NAMES: Readonly<Record<string, string>> = {
  '0x1804': 'Tx Power is how the SIG spells it',
  '0x1859': 'Mesh Proxy Solicitation is the name in the Mesh Protocol; "Audio" is a slip of the other table',
  '0x2bca': 'plural in the Published Audio Capabilities Service',
  '0x2bcc': 'plural in the Published Audio Capabilities Service',
  '0x2bf5': 'the other table lacks the first letter',
  '0x2904': 'the Core Specification calls it Characteristic Presentation Format',
  '0x2907': 'the Core Specification Supplement calls it External Report Reference',
  '0x290f': 'the other table gives it the name of 0x2911',
};

describe('names against the table of Bumble (google/bumble, Apache-2.0)', () => {
  it('agree but for listed cases, and every number is in both', () => {
    const text = sharedFile('data/second-source/attributes.json');
    if (text === undefined) return;
    const differing = new Set<string>();
    let compared = 0;
    for (const { kind, uuid, name } of JSON.parse(text) as { kind: string; uuid: string; name: string }[]) {
      const ours = assignedNumbers(expandUuid(uuid)).find((each) => each.kind === kind || each.kind === 'member' || each.kind === 'declaration');
      expect(ours, `${kind} ${uuid} ${name}`).toBeDefined();
      compared += 1;
      if (ours?.kind === 'member' ? !ours.name.endsWith(name) : ours?.name !== name) differing.add(`0x${uuid.toLowerCase()}`);
    }
    console.info(`assigned names compared with Bumble's: ${compared}, differing: ${differing.size}, each with its reason`);
    expect([...differing].sort()).toEqual(Object.keys(OTHER_NAMES).sort());
  });

  it('of companies agree but for those that were renamed or given back between the dates of the tables', () => {
    const text = sharedFile('data/second-source/companies.json');
    if (text === undefined) return;
    const rows = JSON.parse(text) as { code: number; name: string }[];
    const plain = (name: string): string => name.toLowerCase().normalize('NFKD').replace(/[^a-z0-9]/g, '');
    const held = rows.filter((row) => companyName(row.code) !== undefined);
    const renamed = held.filter((row) => plain(companyName(row.code) ?? '') !== plain(row.name));
    console.info(`companies compared: ${held.length}, renamed: ${renamed.length}, no longer in the newer table: ${rows.length - held.length}`);
    // A table that is shifted by one row would differ in all of them.
    expect(renamed.length).toBeLessThan(rows.length * 0.01);
    expect(rows.length - held.length).toBeLessThan(rows.length * 0.05);
  });
});

describe('Web Bluetooth names against its registries (WebBluetoothCG/registries, Apache-2.0)', () => {
  it.each(['service', 'characteristic', 'descriptor'] as const)('%s names are exactly those of the registry', (kind) => {
    const text = sharedFile(`data/web-bluetooth-registries/gatt_assigned_${kind}s.txt`);
    if (text === undefined) return;
    const rows = text.split('\n').filter((line) => line !== '' && !line.startsWith('#')).map((line) => line.split(' ') as [string, string]);
    for (const [name, uuid] of rows) expect(webBluetoothName(kind, name), name).toBe(uuid.toLowerCase());
    const names = new Set(rows.map(([name]) => name));
    const ours = allAssignedNumbers().filter((each) => each.kind === kind).map((each) => each.identifier?.split(`${kind}.`)[1] ?? '');
    expect(ours.filter((name) => webBluetoothName(kind, name) !== undefined && !names.has(name))).toEqual([]);
    console.info(`${kind} names that Web Bluetooth accepts: ${rows.length}`);
  });

  it('know the names that everybody uses, and no newer ones (Web Bluetooth, ResolveUUIDName)', () => {
    expect(webBluetoothName('service', 'heart_rate')).toBe('0000180d-0000-1000-8000-00805f9b34fb');
    expect(webBluetoothName('service', 'battery_service')).toBe('0000180f-0000-1000-8000-00805f9b34fb');
    expect(webBluetoothName('descriptor', 'gatt.client_characteristic_configuration')).toBe('00002902-0000-1000-8000-00805f9b34fb');
    expect(webBluetoothName('service', 'battery')).toBeUndefined();
    expect(webBluetoothName('service', 'device_time')).toBeUndefined();
  });

  it('withhold what the blocklist withholds', () => {
    const text = sharedFile('data/web-bluetooth-registries/gatt_blocklist.txt');
    if (text === undefined) return;
    const rows = text.split('\n').filter((line) => /^[0-9a-f]{8}-/.test(line)).map((line) => line.trim().split(' ') as [string, string?]);
    expect(blocklist().map((each) => each.uuid)).toEqual(rows.map(([uuid]) => uuid));
    for (const [uuid, rule] of rows) expect(blocklisted(uuid)?.excludes).toBe(rule === undefined ? 'all' : rule.replace('exclude-', ''));
    const data = sharedFile('data/web-bluetooth-registries/manufacturer_data_blocklist.txt');
    const [, company, prefix] = /^manufacturer (\w+) advdata-(\w+)\/ff$/m.exec(data ?? '') ?? [];
    expect(blockedManufacturerData()).toEqual([{ company: Number.parseInt(company ?? '', 16), prefix: [Number.parseInt(prefix ?? '', 16)], name: 'iBeacon' }]);
  });
});

describe('the table itself', () => {
  it('keeps every row of the set that it was made from', () => {
    for (const [file, kind] of [['service', 'service'], ['characteristic', 'characteristic'], ['descriptor', 'descriptor']] as const) {
      const text = sharedFile(`data/assigned-numbers/${file}_uuids.json`);
      if (text === undefined) return;
      for (const { uuid } of JSON.parse(text) as { uuid: string }[]) expect(assignedNumbers(expandUuid(uuid)).some((each) => each.kind === kind), uuid).toBe(true);
    }
  });

  it('names companies and appearance values (Assigned Numbers)', () => {
    expect([companyName(0x004c), companyName(0x0059), companyName(0x00e0), companyName(0xfff0)]).toEqual(['Apple, Inc.', 'Nordic Semiconductor ASA', 'Google', undefined]);
    // Category 0x00D is heart rate sensor, its subcategory 1 the belt; 0x0C0 is a generic watch.
    expect([appearanceName(0x0341), appearanceName(0x0340), appearanceName(0x00c0)]).toEqual(['Heart Rate Sensor: Heart Rate Belt', 'Heart Rate Sensor', 'Watch']);
    expect(appearanceName(0xffff)).toBeUndefined();
  });

  it('carries the licences of the sets beside the data', () => {
    for (const name of ['LICENSE-bluetooth-numbers-database.txt', 'LICENSE-web-bluetooth-registries.txt']) expect(existsSync(join(catalogueFolder, 'assigned', name))).toBe(true);
    expect(readFileSync(join(catalogueFolder, 'assigned/LICENSE-bluetooth-numbers-database.txt'), 'utf8')).toContain('Redistribution and use in source and binary forms');
  });
});
