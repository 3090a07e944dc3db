/**
 * The arithmetic of a profile, against figures worked out by hand from AOSP's constants and the Core Specification's packet
 * formats, each named beside its check.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { membersOf, source } from '../../server/catalogue/index.js';
import { budgetOf, payload, type Budget } from '../../server/profile/budget.js';
import { FIRST_BLE_LEVEL, FIRST_LEVEL_WITH_REQUEST, GREATEST_MTU, LEAST_MTU, LONGEST_VALUE } from '../../server/profile/figures.js';
import { readProfile } from '../../server/profile/read.js';
import { targetsOf } from '../../server/profile/targets.js';

const example = readFileSync(new URL('examples/hive-scale.device.yaml', import.meta.url), 'utf8');

function budget(text: string): Budget {
  const { profile } = readProfile(text, 'p');
  return budgetOf(profile, targetsOf(profile));
}

describe('the figures', () => {
  // GATT_DEF_BLE_MTU_SIZE 23, GATT_MAX_MTU_SIZE 517, GATT_MAX_ATTR_LEN 512 (13 and later): AOSP gatt_api.h.
  it('are those of AOSP', () => {
    expect([LEAST_MTU, GREATEST_MTU, LONGEST_VALUE]).toEqual([23, 517, 512]);
  });

  it('of the API agree with the catalogue', () => {
    expect(membersOf('kotlin', 'BluetoothGatt', 'discoverServices').map(({ since }) => since)).toEqual([FIRST_BLE_LEVEL]);
    expect(membersOf('kotlin', 'BluetoothGatt', 'requestMtu').map(({ since }) => since)).toEqual([FIRST_LEVEL_WITH_REQUEST]);
  });
});

describe('a packet', () => {
  // AOSP attp_build_value_cmd, GATT_HDR_SIZE 3: opcode 1, handle 2; prepare write: offset 2 more; signed write: signature 12
  // more; read response: opcode alone; read by type: opcode, pair length, handle.
  it.each([
    ['write request', 20, 182, 512], ['write command', 20, 182, 512], ['notification', 20, 182, 512], ['indication', 20, 182, 512],
    ['prepare write request', 18, 180, 512], ['read response', 22, 184, 512], ['read by type response', 19, 181, 253], ['signed write command', 8, 170, 502],
  ] as const)('%s carries %i, %i and %i bytes at 23, 185 and 517', (packet, ...bytes) => {
    expect([23, 185, 517].map((mtu) => payload(packet, mtu))).toEqual(bytes);
  });
});

describe('the ATT_MTU', () => {
  const rows = (text: string): unknown[] => budget(text).mtus.map(({ system, from, to, asked, mtu, because }) => [system, from, to, asked, mtu, because]);

  // requestMtu since API level 21; from 34 on the request always says 517 (AOSP GATTC_ConfigureMTU, commit e778518d).
  it('differs by what each release asks for', () => {
    expect(rows('link: { att_mtu: { requested: 247, negotiated: 185 } }')).toEqual([
      ['android', 18, 20, undefined, 23, 'no exchange'],
      ['android', 21, 33, 247, 185, 'negotiated'],
      ['android', 34, undefined, 517, 185, 'negotiated'],
    ]);
  });

  it('is no more than the app asks for, up to Android 13', () => {
    expect(rows('targets: { android: { minimum: 26 } }\nlink: { att_mtu: { requested: 100, negotiated: 185 } }')).toEqual([
      ['android', 26, 33, 100, 100, 'negotiated'],
      ['android', 34, undefined, 517, 185, 'negotiated'],
    ]);
  });

  it('can be counted on for no more than 23 where nobody says what the peripheral grants', () => {
    expect(rows('targets: { android: { minimum: 31 } }\nlink: { att_mtu: { requested: 247 } }')).toEqual([
      ['android', 31, 33, 247, 23, 'the peripheral is not known'],
      ['android', 34, undefined, 517, 23, 'the peripheral is not known'],
    ]);
    expect([...new Set(budget('targets: { android: { minimum: 31 } }\nlink: { att_mtu: { requested: 247 } }').payloads.map(({ mtu }) => mtu))]).toEqual([23, 247, 517]);
  });

  it('stays at 23 where nothing is asked', () => {
    expect(rows('targets: { android: { minimum: 24 } }')).toEqual([['android', 24, 33, undefined, 23, 'no exchange'], ['android', 34, undefined, undefined, 23, 'no exchange']]);
  });

  it('is the browser’s own affair on a page', () => {
    expect(rows('targets: { android: { minimum: 34 }, browser: { platforms: [android] } }\nlink: { att_mtu: { negotiated: 185 } }').at(-1)).toEqual(['browser', undefined, undefined, undefined, 185, 'negotiated']);
  });
});

describe('limits', () => {
  const characteristics = (count: number, property: string): string => Array.from({ length: count }, (_, index) => `{ uuid: 8be5${(0xa000 + index).toString(16)}-ce37-4b32-a8af-1faad64abb2f, properties: [${property}] }`).join(', ');
  const service = (...lists: string[]): string => `services: [{ uuid: 8be5adee-ce37-4b32-a8af-1faad64abb2f, characteristics: [${lists.join(', ')}] }]`;

  // BTA_GATTC_NOTIF_REG_MAX: 4 up to 4.4.0, so for all of API level 19; 7 at 20; 15 from 5.0 to 11; 64 since 12.
  it('of registrations are those of each release, cut to the targets', () => {
    const rows = (minimum: number): unknown[] => budget(`targets: { android: { minimum: ${minimum} } }\n${service(characteristics(5, 'notify'))}`)
      .registrations.map(({ from, to, value, exceeded, makersMayDiffer }) => [from, to, value, exceeded, makersMayDiffer]);
    expect(rows(18)).toEqual([[18, 18, 4, true, true], [19, 19, 4, true, true], [20, 20, 7, false, true], [21, 30, 15, false, true], [31, undefined, 64, false, true]]);
    expect(rows(26)).toEqual([[26, 30, 15, false, true], [31, undefined, 64, false, true]]);
    expect(rows(33)).toEqual([[33, undefined, 64, false, false]]);
  });

  it('count what notifies or indicates, once', () => {
    const { registrations, subscriptions } = budget(service(characteristics(2, 'notify, indicate'), characteristics(3, 'indicate').replaceAll('8be5a', '8be5b'), characteristics(4, 'read').replaceAll('8be5a', '8be5c')));
    expect(subscriptions).toHaveLength(5);
    expect(registrations.map(({ needed }) => needed)).toEqual([5, 5, 5, 5, 5]);
  });

  it('are exceeded by one more, not by as many', () => {
    const exceeded = (count: number): boolean => budget(`targets: { android: { minimum: 21 } }\n${service(characteristics(count, 'notify'))}`).registrations[0]?.exceeded === true;
    expect([exceeded(15), exceeded(16)]).toEqual([false, true]);
  });

  // GATT_MAX_PHY_CHANNEL: 4 up to 4.4.0, 7 up to 14, at least 8 from 15 on.
  it('of links are the whole phone’s', () => {
    const rows = budget('targets: { android: { minimum: 18 } }\nlink: { peripherals: 8 }').links.map(({ from, to, value, needed, exceeded }) => [from, to, value, needed, exceeded]);
    expect(rows).toEqual([[18, 18, 4, 8, true], [19, 19, 4, 8, true], [20, 34, 7, 8, true], [35, undefined, 8, 8, false]]);
    expect(budget('').links.every(({ needed, exceeded }) => needed === undefined && !exceeded)).toBe(true);
  });

  it('are there without a profile, on an assumption', () => {
    const none = budgetOf(undefined, targetsOf(undefined));
    expect(none).toMatchObject({ from: 18, origin: 'assumed', values: [], subscriptions: [] });
    expect(none.registrations.every(({ needed, exceeded }) => needed === undefined && !exceeded)).toBe(true);
  });

  it('leave out what is older than Bluetooth LE', () => {
    expect(budget('targets: { android: { minimum: 14 } }').from).toBe(18);
  });
});

describe('values', () => {
  it('of the beehive scale all fit at its ATT_MTU, and on Android 4 two are cut and one travels in parts', () => {
    const rows = budget(example.replace('minimum: 24', 'minimum: 20')).values.map(({ characteristic, way, mtu, size, room, fits, packets }) => [characteristic.name?.value, way, mtu, size, room, fits, packets]);
    expect(rows.filter(([, , mtu]) => mtu === 247)).toEqual([
      ['Weight', 'read', 247, 4, 246, 'one packet', 1],
      ['Weight', 'notify', 247, 4, 244, 'one packet', 1],
      ['Tare', 'write', 247, 1, 244, 'one packet', 1],
      ['History', 'indicate', 247, 182, 244, 'one packet', 1],
      ['Temperature', 'read', 247, 2, 246, 'one packet', 1],
      ['Temperature', 'notify', 247, 2, 244, 'one packet', 1],
      ['Humidity', 'read', 247, 2, 246, 'one packet', 1],
      ['Humidity', 'notify', 247, 2, 244, 'one packet', 1],
      ['Chunk', 'write without response', 247, 244, 244, 'one packet', 1],
      ['Settings', 'read', 247, 96, 246, 'one packet', 1],
      ['Settings', 'write', 247, 96, 244, 'one packet', 1],
    ]);
    expect(rows.filter(([, , mtu, , , fits]) => mtu === 23 && fits !== 'one packet')).toEqual([
      ['History', 'indicate', 23, 182, 20, 'cut', 1],
      ['Chunk', 'write without response', 23, 244, 20, 'cut', 1],
      ['Settings', 'read', 23, 96, 22, 'several', 5],
      ['Settings', 'write', 23, 96, 20, 'several', 6],
    ]);
  });

  // At 23: 96 bytes are 5 reads of 22 and 6 prepared parts of 18; a signed command carries 8.
  it('that do not fit travel in parts, or are cut', () => {
    const rows = budget('services: [{ uuid: 181A, characteristics: [{ uuid: 2A6E, size: 96, properties: [read, write, write without response, notify, authenticated signed writes, broadcast, extended properties] }] }]')
      .values.map(({ way, mtu, room, fits, packets }) => [way, mtu, room, fits, packets]);
    expect(rows).toEqual([
      ['read', 23, 22, 'several', 5], ['write', 23, 20, 'several', 6], ['write without response', 23, 20, 'cut', 1], ['notify', 23, 20, 'cut', 1], ['authenticated signed writes', 23, 8, 'cut', 1],
    ]);
  });

  it('of unknown size or properties say nothing', () => {
    expect(budget('services: [{ uuid: 181A, characteristics: [{ uuid: 2A6E, properties: [read] }, { uuid: 2A6F, size: 600 }] }]').values).toEqual([]);
  });
});

it('names a source that the catalogue knows in every row', () => {
  const all = budget(example.replace('minimum: 24', 'minimum: 18'));
  const rows = [...all.mtus, ...all.payloads, ...all.registrations, ...all.links, ...all.values];
  expect(rows.length).toBeGreaterThan(40);
  for (const row of rows) expect(source(row.source), row.source).toBeDefined();
});
