/**
 * UUIDs as people spell them. The right answers come from outside: random UUIDs of Node's `crypto`, the expansion onto the
 * Bluetooth base UUID as the Web Bluetooth registries write it out, and what the `yaml` package makes of a bare number.
 */
import { randomUUID } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readProfile } from '../../server/profile/read.js';
import { spellCompany, spellUuid } from '../../server/profile/uuid.js';

/** The UUID that a profile with this bare scalar keeps. */
function readBare(scalar: string): string | undefined {
  return readProfile(`services:\n  - uuid: ${scalar} # remark\n`, 'p').profile?.services[0]?.uuid?.value;
}

describe('a UUID', () => {
  it('of 128 bits may be spelled with or without hyphens and 0x, in either case', () => {
    for (let round = 0; round < 200; round++) {
      const uuid = randomUUID();
      const bare = uuid.replaceAll('-', '');
      for (const spelled of [uuid, uuid.toUpperCase(), bare, bare.toUpperCase(), `0x${bare}`]) {
        expect(spellUuid(spelled)).toEqual({ value: uuid });
        expect(readBare(spelled)).toBe(uuid);
      }
    }
  });

  it('of 16 bits is read from its text, whatever number YAML sees in it', () => {
    const seen = new Set<string>();
    for (let number = 0; number <= 0xffff; number += 7) {
      const digits = number.toString(16).padStart(4, '0');
      const expected = `0000${digits}-0000-1000-8000-00805f9b34fb`;
      for (const spelled of [digits, digits.toUpperCase(), `0x${digits}`]) {
        expect(spellUuid(spelled)).toEqual({ value: expected });
        seen.add(typeof parse(spelled));
      }
    }
    expect([...seen].sort()).toEqual(['number', 'string']);
  });

  it.each([
    ['2902', 2902], ['0x180D', 0x180d], ['12E5', 12e5], ['1e10', 1e10], ['0017', 17], ['00001800', 1800], ['true', true],
  ])('%s is not what YAML makes of it', (scalar, yaml) => {
    expect(parse(scalar)).toBe(yaml);
    const digits = scalar.replace('0x', '');
    expect(readBare(scalar)).toBe(digits === 'true' ? undefined : `${digits.toLowerCase().padStart(8, '0')}-0000-1000-8000-00805f9b34fb`);
  });

  const registry = new URL('../../../shared/data/web-bluetooth-registries/gatt_assigned_services.txt', import.meta.url);
  it(`expands like the Web Bluetooth registries${existsSync(registry) ? '' : ' (absent here: nothing compared)'}`, () => {
    if (!existsSync(registry)) return;
    const rows = readFileSync(registry, 'utf8').split('\n').filter((line) => /^\S+ [0-9a-f]{8}-/i.test(line));
    expect(rows.length).toBeGreaterThan(30);
    for (const row of rows) {
      const uuid = row.split(' ')[1]?.toLowerCase() ?? '';
      expect(spellUuid(uuid.slice(4, 8))).toEqual({ value: uuid });
      expect(spellUuid(uuid.slice(0, 8))).toEqual({ value: uuid });
    }
  });

  it('with a fault points into its text', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 40 }), (text) => {
      const read = spellUuid(text);
      if ('value' in read) return;
      expect(read.at.start).toBeGreaterThanOrEqual(0);
      expect(read.at.end).toBeLessThanOrEqual(text.length);
      expect(read.at.end).toBeGreaterThan(text === '' ? -1 : read.at.start);
    }), { numRuns: 2000 });
  });
});

describe('a company identifier', () => {
  // Company identifiers are 16 bits wide and published as 0x004C; that one is Apple's (assigned numbers).
  it.each([['0x004C', 0x4c], ['004C', 0x4c], ['0059', 0x59], ['FFFF', 0xffff]])('%s', (text, value) => {
    expect(spellCompany(text)).toEqual({ value });
    expect(readProfile(`device: { company: ${text} }`, 'p').profile?.device.company?.value).toBe(value);
  });

  it.each(['4C', '76', '0x0004C', 'Apple', '', '00 4C'])('%j is none', (text) => {
    expect(spellCompany(text)).toHaveProperty('message');
  });
});
