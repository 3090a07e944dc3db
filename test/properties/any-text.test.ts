/**
 * Whatever the texts are, the whole check (lowering, linking, facts, rules) throws nothing and comes to its end. Time is
 * that of the processor, and bounded by the size of the text: a step that is taken once too often shows here.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kotlinSources } from '../support/kotlin-corpus.js';
import { apps, check, demo, SEED, sources, type Project } from './projects.js';

const WORDS = [
  'fun', 'class', 'object', 'val', 'var', 'if', 'else', 'when', 'for', 'while', 'return', 'try', 'catch', 'throw', 'override', 'suspend', 'is', 'in', 'as',
  'const', 'let', 'function', 'async', 'await', 'new', 'this', 'import', 'export', 'of', 'null', 'true', 'it', 'Unit', 'Promise',
  'BluetoothGatt', 'BluetoothGattCallback', 'BluetoothDevice', 'BluetoothRemoteGATTCharacteristic', 'gatt', 'device', 'status', 'newState', 'GATT_SUCCESS',
  'connectGatt', 'readCharacteristic', 'writeCharacteristic', 'discoverServices', 'setCharacteristicNotification', 'close', 'disconnect', 'connect',
  'onServicesDiscovered', 'onConnectionStateChange', 'onDestroy', 'readValue', 'startNotifications', 'then', 'catch', 'finally', 'all', 'Mutex', 'withLock',
  'launch', 'forEach', 'addEventListener', 'useEffect', 'queue', 'enqueue', 'UUID', 'fromString', '"0000180f-0000-1000-8000-00805f9b34fb"',
  '(', ')', '{', '}', '[', ']', '<', '>', '.', ',', ':', ';', '=', '==', '!=', '?.', '?:', '!!', '??', '=>', '->', '&&', '||', '!', '+', '"', "'", '`', '$', '@', '//', '/*', '*/', '\n', ' ', '1',
];
const PATHS = ['a.kt', 'a.ts', 'a.tsx', 'a.vue', 'a.svelte', 'a.device.yaml', 'build.gradle.kts'];

/** Milliseconds that a check may take: a start, and so many for each character. */
const START = 4_000;
const EACH = 0.15;

function expectEnd(files: ReadonlyMap<string, string>): void {
  const { problems, time } = check(files);
  expect(problems).toEqual([]);
  expect(time).toBeLessThan(START + EACH * [...files.values()].reduce((sum, text) => sum + text.length, 0));
}

function tokensOf(text: string): string[] {
  return text.match(/[\w$]+|\s+|[^\w\s]/g) ?? [];
}

/** A project with one of its sources damaged. */
const damaged = (project: Project, damage: fc.Arbitrary<(text: string) => string>): fc.Arbitrary<ReadonlyMap<string, string>> =>
  fc.tuple(fc.constantFrom(...sources(project)), damage).map(([path, change]) => new Map(project.files).set(path, change(project.files.get(path)!)));

const truncation = fc.nat(10_000).map((share) => (text: string) => text.slice(0, Math.round((text.length * share) / 10_000)));
const deletion = fc.array(fc.nat(), { minLength: 1, maxLength: 6 }).map((gone) => (text: string) => {
  const tokens = tokensOf(text);
  for (const at of gone) tokens[at % tokens.length] = '';
  return tokens.join('');
});

describe('the whole check comes to its end', () => {
  it('on any characters', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 300 }), fc.constantFrom(...PATHS), (text, path) => expectEnd(new Map([[path, text]]))), { numRuns: 500, seed: SEED });
  });

  it('on the languages’ and the trade’s own words in any order', () => {
    const text = fc.array(fc.constantFrom(...WORDS), { maxLength: 120 }).map((words) => words.join(' '));
    fc.assert(fc.property(text, text, fc.constantFrom(...PATHS), (one, other, path) => expectEnd(new Map([[path, one], ['b.kt', other], ['b.ts', other]]))), { numRuns: 500, seed: SEED });
  });

  it.each([demo, ...apps])('on $name cut off anywhere', (project) => {
    fc.assert(fc.property(damaged(project, truncation), expectEnd), { numRuns: project === demo ? 8 : 16, seed: SEED });
  });

  it.each([demo, ...apps])('on $name without some of its tokens', (project) => {
    fc.assert(fc.property(damaged(project, deletion), expectEnd), { numRuns: project === demo ? 8 : 16, seed: SEED });
  });
});

describe('on the Kotlin of npm packages', () => {
  const texts = kotlinSources().map(({ text }) => text).filter((text) => text.length < 40_000);

  it('there is enough of it', () => {
    expect(texts.length).toBeGreaterThan(1_000);
  });

  it('all of it together, as it is', () => {
    expectEnd(new Map(texts.slice(0, 400).map((text, i) => [`${i}.kt`, text])));
  });

  it('damaged', () => {
    const one = fc.tuple(fc.constantFrom(...texts), fc.oneof(truncation, deletion)).map(([text, change]) => change(text));
    fc.assert(fc.property(fc.array(one, { minLength: 1, maxLength: 4 }), (some) => expectEnd(new Map(some.map((text, i) => [`${i}.kt`, text])))), { numRuns: 150, seed: SEED });
  });

  it('with its types and calls taken for those of a link, damaged', () => {
    const one = fc.tuple(fc.constantFrom(...texts), fc.infiniteStream(fc.nat()), fc.oneof(truncation, deletion, fc.constant((text: string) => text)))
      .map(([text, numbers, change]) => change(asIfOfALink(text, numbers)));
    fc.assert(fc.property(fc.array(one, { minLength: 1, maxLength: 2 }), (some) => expectEnd(new Map(some.map((text, i) => [`${i}.kt`, text])))), { numRuns: 150, seed: SEED });
  });
});

const TYPES = ['BluetoothGatt', 'BluetoothGattCharacteristic', 'BluetoothDevice', 'BluetoothGattCallback', 'BluetoothGattService', 'Handler', 'Mutex', 'CompletableDeferred'];
const CALLS = ['connectGatt', 'close', 'disconnect', 'discoverServices', 'readCharacteristic', 'writeCharacteristic', 'requestMtu', 'setCharacteristicNotification', 'writeDescriptor', 'withLock', 'await', 'complete', 'post'];

/** A third of the types and of the called methods bear other names: each everywhere the same. */
function asIfOfALink(text: string, numbers: Iterator<number>): string {
  const other = (from: readonly string[]) => (name: string): string => {
    const number: number = numbers.next().value;
    return number % 3 === 0 ? from[Math.floor(number / 3) % from.length]! : name;
  };
  const renamed = (names: Iterable<string>, from: readonly string[]) => new Map([...new Set(names)].map((name) => [name, other(from)(name)] as const));
  const types = renamed([...text.matchAll(/[:<] ?([A-Z]\w*)/g)].map(([, name]) => name!), TYPES);
  const calls = renamed([...text.matchAll(/\.([a-z]\w*)(?=[({ ])/g)].map(([, name]) => name!), CALLS);
  const body = text.replace(/\b[A-Z]\w*/g, (name) => types.get(name) ?? name).replace(/\.([a-z]\w*)(?=[({ ])/g, (_, name: string) => `.${calls.get(name) ?? name}`);
  return body.replace(/^(package .*)?/, '$1\nimport android.bluetooth.*\nimport android.os.Handler\n');
}
