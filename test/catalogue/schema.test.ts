/** Every data file has its shape, every signature can be read, and every name in the data stands for something. */
import Ajv from 'ajv';
import { describe, expect, it } from 'vitest';
import {
  allAssignedNumbers, allLifecycle, allLimits, allRunners, allStatusCodes, blocklist, isPlatformType, platformType, platformTypeNames, source, sourceKeys,
  type Language,
} from '../../server/catalogue/index.js';
import { readSignature } from '../../server/catalogue/signature.js';
import { dataFiles, readData } from './files.js';
import { schemaFor } from './schemas.js';

describe('the data files', () => {
  const ajv = new Ajv({ allErrors: true, strict: true, allowUnionTypes: true });

  it.each(dataFiles())('%s has its shape', (path) => {
    const valid = ajv.compile(schemaFor(path));
    expect(valid(readData(path)) ? [] : valid.errors).toEqual([]);
  });

  it('name only sources that there are, and every source is named', () => {
    const known = new Set(sourceKeys());
    const named = new Set(namedSources());
    expect([...named].filter((key) => !known.has(key))).toEqual([]);
    expect([...known].filter((key) => !named.has(key))).toEqual([]);
    for (const key of known) expect(source(key).where.length).toBeGreaterThan(5);
    expect(() => source('nowhere')).toThrow();
  });
});

/** Sources are named under `sources`, `source` and `origin`, at any depth. */
function namedSources(): string[] {
  const found: string[] = [];
  const visit = (value: unknown): void => {
    if (Array.isArray(value)) return value.forEach(visit);
    if (typeof value !== 'object' || value === null) return;
    for (const [key, child] of Object.entries(value)) {
      if (key === 'sources' && Array.isArray(child)) found.push(...(child as string[]));
      else if ((key === 'source' || key === 'origin') && typeof child === 'string') found.push(child);
      else visit(child);
    }
  };
  for (const path of dataFiles()) if (path !== 'sources.yaml') visit(readData(path));
  return found;
}

describe('signatures', () => {
  it('are read as written', () => {
    expect(readSignature('requestMtu(mtu: number @mtu) -> boolean')).toEqual({ name: 'requestMtu', params: [{ name: 'mtu', type: 'number', is: 'mtu' }], result: 'boolean' });
    expect(readSignature('getSystemService<T>(serviceClass: Class<T>) -> T?')).toEqual({ name: 'getSystemService', typeParams: ['T'], params: [{ name: 'serviceClass', type: 'Class<T>' }], result: 'T?' });
    expect(readSignature('(uuid: UUID, sizes...: number)').params).toEqual([{ name: 'uuid', type: 'UUID' }, { name: 'sizes', type: 'number', rest: true }]);
    expect(readSignature('then(ok?: fun(A, B) -> C, no?: fun(any) -> D) -> Promise<C>').params?.map((param) => param.type)).toEqual(['fun(A, B) -> C', 'fun(any) -> D']);
    expect(readSignature('onclick: fun(Event) -> any')).toEqual({ name: 'onclick', result: 'fun(Event) -> any' });
  });

  it('that are none are refused', () => {
    for (const text of ['nothing', 'f(a)', 'f(a: number', 'f(a: number) number', 'f g(a: number)']) expect(() => readSignature(text), text).toThrow();
  });
});

/** Types that are named and not described: what code does with them does not matter to a link. */
const OPAQUE = new Set([
  'any', 'void', 'boolean', 'never', 'null', 'bigint', 'fun', 'Class', 'TimeUnit', 'Duration', 'ComponentName', 'PackageManager', 'SharedPreferences', 'Bundle', 'Notification',
  'Parcel', 'CoroutineContext', 'PeriodicAdvertisingParameters', 'BluetoothClass', 'BluetoothSocketSettings', 'InputStream', 'OutputStream',
]);

describe('names of types in the data', () => {
  it.each<Language>(['kotlin', 'typescript'])('are types of the catalogue or known to be opaque (%s)', (language) => {
    const unknown = new Set<string>();
    for (const name of platformTypeNames(language)) {
      const type = platformType(language, name)!;
      const texts = [...(type.supertypes ?? []), ...type.members.flatMap((member) => [member.result ?? 'void', ...(member.params ?? []).map((param) => param.type)])];
      const variables = new Set([...(type.typeParams ?? []), ...type.members.flatMap((member) => member.typeParams ?? [])]);
      for (const word of texts.flatMap((text) => text.match(/[A-Za-z_$][\w$.]*/g) ?? [])) {
        if (!variables.has(word) && !OPAQUE.has(word) && !isPlatformType(language, word)) unknown.add(`${name}: ${word}`);
      }
    }
    expect([...unknown]).toEqual([]);
  });

  it('in runners and lifecycle rows are types of the catalogue', () => {
    const free = new Set(['nothing', 'any', 'event', 'registered', ...OUTSIDE]);
    const unknown = [...allRunners(), ...allLifecycle()].filter(({ on, language }) => {
      const languages: Language[] = language === 'both' ? ['kotlin', 'typescript'] : [language];
      return on !== undefined && !free.has(on) && !languages.some((each) => isPlatformType(each, on));
    });
    expect(unknown.map((row) => `${row.on}.${row.name}`)).toEqual([]);
  });

  it('are told apart: no row of runners stands twice', () => {
    const keys = allRunners().map((row) => `${row.language} ${row.on ?? '*'}.${row.name} ${row.lambda}`);
    expect(keys.filter((key, at) => keys.indexOf(key) !== at)).toEqual([]);
  });
});

/** Classes of other libraries that only runners know. */
const OUTSIDE = ['Single', 'Observable', 'Completable', 'Flowable', 'Maybe', 'PQueue'];

it('counts', () => {
  const count = (language: Language): number => platformTypeNames(language).reduce((sum, name) => sum + platformType(language, name)!.members.length, 0);
  console.info(
    `catalogue: ${platformTypeNames('kotlin').length} Kotlin types with ${count('kotlin')} members, ${platformTypeNames('typescript').length} TypeScript types with ${count('typescript')}, ` +
    `${allRunners().length} runners, ${allLifecycle().length} lifecycle rows, ${allLimits().length} limits, ${allStatusCodes().length} status codes, ` +
    `${allAssignedNumbers().length} assigned UUIDs, ${blocklist().length} withheld ones, ${sourceKeys().length} sources`,
  );
  expect(count('kotlin')).toBeGreaterThan(1000);
});
