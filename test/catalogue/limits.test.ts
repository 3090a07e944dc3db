/**
 * Limits and status codes as the platform's sources have them. Each figure stands with the constant and the place it was
 * read at; those places are in `sources.yaml`.
 */
import { describe, expect, it } from 'vitest';
import { allLimits, allStatusCodes, constantOf, levelsBelow, limitAt, limitRanges, osLimit, platformType, rangeAt, source, statusCodes } from '../../server/catalogue/index.js';
import { sharedFile } from './files.js';

describe('notification registrations: BTA_GATTC_NOTIF_REG_MAX in bta/gatt/bta_gattc_int.h', () => {
  const limit = osLimit('notification-registrations');

  it.each([
    // AOSP bluedroid jb-mr2-release b7ea70cc; kitkat-release da8e927f (4.4.0): 4
    [17, 4], [18, 4], [19, 4],
    // AOSP bluedroid kitkat-mr1-release 46ebeb1d … l-preview 8b52f5f2: 7
    [20, 7],
    // AOSP system/bt android-6.0.0_r1 … android-11.0.0_r1: 15
    [21, 15], [23, 15], [30, 15],
    // AOSP system/bt android-12.0.0_r1, 12.1.0_r1; packages/modules/Bluetooth android13-, android14-, android15-release: 64
    [31, 64], [33, 64], [35, 64], [36, 64],
  ])('API level %i grants %i', (level, value) => {
    expect(limitAt(limit, level)).toBe(value);
  });

  it('is 7 on the later releases of API level 19', () => {
    expect(rangeAt(limit, 19).later).toMatchObject({ release: '4.4.1 to 4.4.4', value: 7 });
    expect(source(rangeAt(limit, 19).later!.source).where).toContain('8dc42c60');
  });

  it('tells which levels fail', () => {
    expect(levelsBelow(limit, 5, 18)).toEqual({ from: 18, to: 19 });
    expect(levelsBelow(limit, 16, 21)).toEqual({ from: 21, to: 30 });
    expect(levelsBelow(limit, 16, 31)).toBeUndefined();
    expect(levelsBelow(limit, 65, 26)).toEqual({ from: 26 });
    expect(limitRanges(limit, 19, 30).map(({ from, to, value }) => [from, to, value])).toEqual([[19, 19, 4], [20, 20, 7], [21, 30, 15]]);
    expect(limit.firmFrom).toBe(33);
  });
});

describe('other limits', () => {
  it.each([
    // GATT_MAX_PHY_CHANNEL, bt_target.h: bluedroid 4, later 7; packages/modules/Bluetooth android15-release: floor 8
    ['gatt-links', 18, 4], ['gatt-links', 19, 4], ['gatt-links', 21, 7], ['gatt-links', 34, 7], ['gatt-links', 35, 8],
    // MAX_L2CAP_LINKS, bt_target.h: 7; 13 (commit 5c6e64c7); 16 (commit 2434f813)
    ['acl-links', 27, 7], ['acl-links', 28, 13], ['acl-links', 33, 16],
    // GATT_MAX_APPS: 10 in bluedroid, 32 since 5.0
    ['gatt-apps', 19, 10], ['gatt-apps', 21, 32],
    // BTA_GATTC_CLCB_MAX: 22; 16 × 32 in 15 (commits 2b2daf7c, b6e2ac00)
    ['client-links', 34, 22], ['client-links', 35, 512],
    // GATT_DEF_BLE_MTU_SIZE, GATT_MAX_MTU_SIZE, GATT_MAX_ATTR_LEN: gatt_api.h
    ['default-att-mtu', 30, 23], ['max-att-mtu', 30, 517], ['attribute-length', 32, 600], ['attribute-length', 33, 512],
    // GATT_WAIT_FOR_RSP_TOUT: 30 s
    ['att-timeout', 30, 30],
    // AppScanStats NUM_SCAN_DURATIONS_KEPT, EXCESSIVE_SCANNING_PERIOD_MS: since 7.0
    ['scan-starts', 23, Infinity], ['scan-starts', 24, 5], ['scan-start-window', 30, 30_000],
    // SCAN_TIMEOUT_MS 30 min; DEFAULT_SCAN_TIMEOUT_MILLIS 10 min since 14
    ['scan-duration', 33, 1_800_000], ['scan-duration', 34, 600_000],
  ])('%s at API level %i: %d', (name, level, value) => {
    expect(limitAt(osLimit(name), level)).toBe(value);
  });

  it('cover the API levels without gaps', () => {
    for (const { name, ranges } of allLimits()) {
      ranges.forEach((range, at) => expect(range.to, name).toBe(at === ranges.length - 1 ? undefined : ranges[at + 1]!.from - 1));
      expect(ranges[0]!.from).toBeLessThanOrEqual(24);
    }
    expect(() => osLimit('patience')).toThrow();
  });

  it('are named by constants that the collected platform facts know', () => {
    const facts = sharedFile('facts.md');
    if (facts === undefined) return;
    const unknown = allLimits().filter(({ constant }) => !facts.includes(constant));
    // The facts give the long scan's first figure without its constant.
    expect(unknown.map(({ constant }) => constant)).toEqual(['SCAN_TIMEOUT_MS']);
  });
});

describe('status codes', () => {
  it('agree with the constants of the Android classes', () => {
    for (const { value, name, where } of allStatusCodes()) {
      const owner = where === 'scan' ? 'ScanCallback' : where === 'advertise' ? 'AdvertiseCallback' : where === 'bluetooth-status' ? 'BluetoothStatusCodes' : undefined;
      if (owner !== undefined && name !== 'ERROR_DEVICE_NOT_CONNECTED') expect(constantOf('kotlin', owner, name)?.value, name).toBe(value);
    }
    // Every failure that the callbacks and calls can name has its meaning; 14xx are of audio profiles.
    for (const [owner, where] of [['ScanCallback', 'scan'], ['AdvertiseCallback', 'advertise'], ['BluetoothStatusCodes', 'bluetooth-status'], ['BluetoothGatt', undefined]] as const) {
      for (const member of platformType('kotlin', owner)!.members) {
        if (member.kind !== 'constant' || typeof member.value !== 'number' || member.value >= 1400 && member.value < 1500) continue;
        if (owner !== 'BluetoothGatt' || member.name.startsWith('GATT_')) expect(statusCodes(member.value, where), member.name).not.toEqual([]);
      }
    }
  });

  it('tell the same number apart by its place', () => {
    expect(statusCodes(0x08).map((code) => [code.where, code.name])).toEqual([['att', 'Insufficient Authorization'], ['hci', 'Connection Timeout']]);
    expect(statusCodes(133).map((code) => code.name)).toEqual(['GATT_ERROR']);
    expect(statusCodes(147)[0]?.name).toBe('GATT_CONNECTION_TIMEOUT');
    expect(statusCodes(257)[0]?.name).toBe('GATT_FAILURE');
    expect(statusCodes(0x13, 'hci')[0]?.name).toBe('Remote User Terminated Connection');
  });

  it('hold all ATT errors (Core Specification, Vol 3, Part F, 3.4.1.1: 0x01 to 0x13; Supplement, Part B: 0xFC to 0xFF), each once', () => {
    const att = allStatusCodes().filter((code) => code.where === 'att').map((code) => code.value);
    expect(att).toEqual([...Array.from({ length: 0x13 }, (_, at) => at + 1), 0xfc, 0xfd, 0xfe, 0xff]);
    const keys = allStatusCodes().map((code) => `${code.where} ${code.value}`);
    expect(keys.filter((key, at) => keys.indexOf(key) !== at)).toEqual([]);
  });
});
