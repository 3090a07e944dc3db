/** What stands at an offset of a profile that is being typed. `|` is the offset. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { locate } from '../../server/profile/locate.js';
import { schemaAt } from '../../server/profile/schema.js';

const example = readFileSync(new URL('examples/hive-scale.device.yaml', import.meta.url), 'utf8');

function at(marked: string): ReturnType<typeof locate> & { readonly typed?: string } | undefined {
  const offset = marked.indexOf('|');
  const text = marked.replace('|', '');
  const found = locate(text, offset);
  return found === undefined ? undefined : { ...found, typed: text.slice(found.at.start, found.at.end) };
}

const SERVICE = 'services:\n  - uuid: 181A\n    characteristics:\n';

describe('a place', () => {
  it.each([
    ['a key', 'dev|ice:\n  name: Hive\n', ['device'], 'key', 'device'],
    ['a value', 'device:\n  name: Hi|ve\n', ['device', 'name'], 'value', 'Hive'],
    ['the end of a value', 'device:\n  name: Hive|\n', ['device', 'name'], 'value', 'Hive'],
    ['a key half typed', 'device:\n  na|\n  maker: Waben\n', ['device', 'na'], 'key', 'na'],
    ['a key half typed at the top', 'device:\n  name: Hive\nser|', ['ser'], 'key', 'ser'],
    ['an empty line inside a group', 'device:\n  |\n  maker: Waben\n', ['device', ''], 'key', ''],
    ['an empty line after a group', 'device:\n  maker: Waben\n  |\n', ['device', ''], 'key', ''],
    ['an empty file', '|', [''], 'key', ''],
    ['an empty line at the top', 'device:\n  maker: Waben\n|\nlink:\n', [''], 'key', ''],
    ['a value still to come', 'device:\n  name: |\n', ['device', 'name'], 'value', ''],
    ['an entry still to come', 'services:\n  - |\n', ['services', 0], 'value', ''],
    ['a key of a new entry', `${SERVICE}      - na|\n`, ['services', 0, 'characteristics', 0], 'value', 'na'],
    ['a word in brackets', `${SERVICE}      - { uuid: 2A6E, properties: [read, no|] }\n`, ['services', 0, 'characteristics', 0, 'properties', 1], 'value', 'no'],
    ['a word still to come in brackets', `${SERVICE}      - { uuid: 2A6E, properties: [read, |] }\n`, ['services', 0, 'characteristics', 0, 'properties', 1], 'value', ''],
    ['a word on a line of its own in brackets', `${SERVICE}      - { uuid: 2A6E, properties: [read,\n          wri|] }\n`, ['services', 0, 'characteristics', 0, 'properties', 1], 'value', 'wri'],
    ['a key still to come in braces', 'device: { name: Hive, | }\n', ['device', ''], 'key', ''],
    ['a wrapper', 'wrappers:\n  Link.send: wri|\n', ['wrappers', 'Link.send'], 'value', 'wri'],
    ['before a remark', 'device:\n  name: | # the product\n', ['device', 'name'], 'value', ''],
  ] as const)('%s', (_, marked, path, part, typed) => {
    expect(at(marked)).toMatchObject({ path, part, typed });
  });

  it('knows the keys beside it', () => {
    expect(at('device:\n  name: Hive\n  |\n  maker: Waben\n')?.siblings).toEqual(['name', 'maker']);
    expect(at('device:\n  na|me: Hive\n  maker: Waben\n')?.siblings).toEqual(['maker']);
  });

  it('knows the attribute around it', () => {
    expect(at(example.replace('properties: [read, notify]', 'properties: [re|ad, notify]'))?.attribute).toEqual({ kind: 'characteristic', uuid: '8be5adef-ce37-4b32-a8af-1faad64abb2f' });
    expect(at(example.replace('uuid: 2902', 'uuid: 29|02'))?.attribute).toEqual({ kind: 'descriptor', uuid: '00002902-0000-1000-8000-00805f9b34fb' });
    expect(at(example.replace('uuid: 0x181A', 'uuid: 0x18|1A'))?.attribute).toEqual({ kind: 'service', uuid: '0000181a-0000-1000-8000-00805f9b34fb' });
    expect(at(example.replace('maker: ', 'ma|ker: '))?.attribute).toBeUndefined();
  });

  it('leads to the schema of what may stand there', () => {
    const words = at(`${SERVICE}      - { uuid: 2A6E, properties: [read, |] }\n`);
    expect(words === undefined ? undefined : schemaAt(words.path)?.enum).toContain('notify');
    const entry = at(`${SERVICE}      - |\n`);
    expect(Object.keys((entry === undefined ? undefined : schemaAt(entry.path)?.properties) ?? {})).toContain('properties');
  });

  it('is nowhere in a remark or between things', () => {
    expect(at('# a re|mark\ndevice:\n  name: Hive\n')).toBeUndefined();
  });

  it('never throws, and lies in the text around the offset', () => {
    fc.assert(fc.property(fc.nat(example.length), fc.nat(30), fc.nat(example.length), (cut, length, seed) => {
      const text = example.slice(0, cut) + example.slice(cut + length);
      const offset = Math.min(seed, text.length);
      const found = locate(text, offset);
      if (found !== undefined) expect(found.at.start <= offset && offset <= found.at.end && found.at.end <= text.length).toBe(true);
    }), { numRuns: 400 });
    fc.assert(fc.property(fc.stringMatching(/^[-:?{}[\],&*!|>'"%@#\n\t a0x.]{0,60}$/), fc.nat(60), (text, offset) => {
      locate(text, Math.min(offset, text.length));
    }), { numRuns: 1000 });
  });
});
