/** The schema itself: a valid JSON Schema, complete for what the program knows, and the reference page written from it. */
import { existsSync, readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { readProfile } from '../../server/profile/read.js';
import { writeReference } from '../../server/profile/reference.js';
import { ANNOTATIONS, properties, schema, schemaAt, type Schema } from '../../server/profile/schema.js';

const example = readFileSync(new URL('examples/hive-scale.device.yaml', import.meta.url), 'utf8');
const page = new URL('../../rules/profile.md', import.meta.url);

function all(of: Schema): Schema[] {
  const below = [...Object.values(of.properties ?? {}), ...(of.anyOf ?? []), of.items, of.additionalProperties === false ? undefined : of.additionalProperties];
  return [of, ...below.flatMap((child) => (child === undefined ? [] : all(child)))];
}

describe('the schema', () => {
  it('is a JSON Schema of draft 7, in the strict reading of ajv', () => {
    const ajv = new Ajv({ strict: true, allowUnionTypes: true });
    ajv.addVocabulary([...ANNOTATIONS]);
    expect(ajv.validateSchema(schema)).toBe(true);
    expect(() => ajv.compile(schema)).not.toThrow();
  });

  it('explains every part and every word', () => {
    for (const part of all(schema)) {
      expect(part.title).toMatch(/^[a-z]/i);
      expect(part.description).toMatch(/\.$/);
      expect(part.enumDescriptions?.length).toBe(part.enum?.length);
    }
  });

  it('closes every group of keys, so that a mistyped key is seen', () => {
    for (const part of all(schema)) if (part.properties !== undefined) expect(part.additionalProperties).toBe(false);
  });

  // The eight bits of the characteristic properties field, in their order: AOSP BluetoothGattCharacteristic.PROPERTY_BROADCAST
  // 0x01, READ 0x02, WRITE_NO_RESPONSE 0x04, WRITE 0x08, NOTIFY 0x10, INDICATE 0x20, SIGNED_WRITE 0x40, EXTENDED_PROPS 0x80.
  it('has the eight characteristic properties', () => {
    expect(properties).toEqual(['broadcast', 'read', 'write without response', 'write', 'notify', 'indicate', 'authenticated signed writes', 'extended properties']);
  });

  it('is found by a path', () => {
    expect(schemaAt([])).toBe(schema);
    expect(schemaAt(['services', 3, 'characteristics', 0, 'properties', 1])?.enum).toEqual(properties);
    expect(schemaAt(['wrappers', 'Link.send', 0])?.title).toBe('a role');
    expect(schemaAt(['services', 0, 'constructor'])).toBeUndefined();
    expect(schemaAt(['services', 'x', 1, 'y'])).toBeUndefined();
  });
});

describe('the reference page', () => {
  it('is as the schema has it', async () => {
    expect(existsSync(page), 'rules/profile.md is missing').toBe(true);
    await expect(writeReference(example), 'rules/profile.md is stale; renew it by: npm run unit -- test/profile/schema.test.ts -u').toMatchFileSnapshot(page.pathname);
  });

  it('shows an example that is right', () => {
    const shown = /```yaml\n([^]*?)```/.exec(readFileSync(page, 'utf8'))?.[1] ?? '';
    const { profile, problems } = readProfile(shown, 'p');
    expect(problems).toEqual([]);
    expect(profile?.services.length).toBeGreaterThan(0);
  });
});
