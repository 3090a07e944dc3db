/**
 * Hover on a UUID: what the catalogue has assigned to it and what the profile says. Expected names are those of the
 * Bluetooth SIG's Assigned Numbers: 3.4 (services), 3.7 (descriptors), 3.8 (characteristics), 3.11 (members).
 */
import type { MarkupContent } from 'vscode-languageserver-protocol';
import { afterEach, describe, expect, it } from 'vitest';
import { uriOf } from '../../server/lsp/places.js';
import { uuidInProfile } from '../../server/lsp/uuid-at.js';
import { readProfile } from '../../server/profile/read.js';
import { startSession } from './session.js';
import type { Session } from './session.js';
import { SmallWorkbench } from './small-workbench.js';

const LINK = '/app/HiveLink.kt';
const PROFILE = '/app/hive-scale.device.yaml';
const YAML = `device:
  name: Hive scale
services:
  - uuid: 180F
    name: Battery
    characteristics:
      - uuid: 2A19
        name: Charge
        properties: [read, notify]
        size: 1
        descriptors:
          - uuid: 2902
  - uuid: 8f2d6c1e-4b5a-4c39-9e77-2a61d0b3f5a4
    characteristics:
      - uuid: 8f2d6c1f-4b5a-4c39-9e77-2a61d0b3f5a4
        name: Weight
        properties: [write, indicate]
        size: { minimum: 4, maximum: 20 }
        security: { write: [encryption, authorization] }
`;
const BATTERY_LEVEL = '00002a19-0000-1000-8000-00805f9b34fb';
const WEIGHT = '8f2d6c1f-4b5a-4c39-9e77-2a61d0b3f5a4';

let session: Session;
afterEach(() => session.end());

/** The hover's text for a document that is one UUID. */
async function hovered(uuid: string, described = true): Promise<string> {
  const { profile } = readProfile(YAML, PROFILE);
  const workbench = new SmallWorkbench({
    uuid: (text) => ({ at: { start: 0, end: text.length }, uuid }),
    ...(described && profile && { profile, disk: { [PROFILE]: YAML } }),
  });
  session = await startSession(workbench);
  session.open(LINK, 'kotlin', uuid);
  const hover = await session.hover(LINK, 0, 4);
  expect(hover!.range).toEqual({ start: { line: 0, character: 0 }, end: { line: 0, character: 36 } });
  return (hover!.contents as MarkupContent).value;
}

describe('without a profile', () => {
  it('names a characteristic, with both forms of its UUID', async () => {
    const text = await hovered(BATTERY_LEVEL, false);
    expect(text).toContain('`0x2A19` · `00002a19-0000-1000-8000-00805f9b34fb`');
    expect(text).toContain('**Battery Level**, characteristic (`org.bluetooth.characteristic.battery_level`)');
  });

  it.each([
    ['0000180d-0000-1000-8000-00805f9b34fb', '**Heart Rate**, service'],
    ['00002902-0000-1000-8000-00805f9b34fb', '**Client Characteristic Configuration**, descriptor'],
  ])('%s is %s', async (uuid, expected) => {
    expect(await hovered(uuid, false)).toContain(expected);
  });

  it('says that a UUID of the maker’s own is none that is assigned', async () => {
    expect(await hovered(WEIGHT, false)).toBe(`\`${WEIGHT}\`\n\nA UUID of its maker’s own: no assigned number.`);
  });
});

describe('with a profile', () => {
  it('adds its name for the attribute, properties and size, and leads to the line', async () => {
    const text = await hovered(BATTERY_LEVEL);
    expect(text).toContain('**Battery Level**, characteristic');
    expect(text).toContain(`**Charge**, characteristic of Battery · read, notify · 1 byte — [device profile of Hive scale](${uriOf(PROFILE)}#L7)`);
  });

  it('says what a write must have, and how long the value may be', async () => {
    expect(await hovered(WEIGHT)).toContain('**Weight**, characteristic · write, indicate · 4 to 20 bytes · writing: encryption and authorization — ');
  });

  it('says so when the device does not have it', async () => {
    expect(await hovered('0000180d-0000-1000-8000-00805f9b34fb')).toContain(`Not in the [device profile of Hive scale](${uriOf(PROFILE)})`);
  });
});

it('shows nothing where no UUID is', async () => {
  session = await startSession(new SmallWorkbench());
  session.open(LINK, 'kotlin', 'class HiveLink');
  expect(await session.hover(LINK, 0, 4)).toBeNull();
});

it('finds the UUIDs of a profile where they stand in it, read as they are written', async () => {
  session = await startSession(new SmallWorkbench());
  const { profile } = readProfile(YAML, PROFILE);
  const at = (word: string) => uuidInProfile(profile!, YAML.indexOf(word) + 1);
  expect(at('2902')).toEqual({ at: { start: YAML.indexOf('2902'), end: YAML.indexOf('2902') + 4 }, uuid: '00002902-0000-1000-8000-00805f9b34fb' });
  expect(at('8f2d6c1f')?.uuid).toBe(WEIGHT);
  expect(at('Charge')).toBeUndefined();
});
