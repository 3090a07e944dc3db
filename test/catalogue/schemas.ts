/** JSON schemas of the data files. Their words are those of `server/catalogue/data.ts` and `types.ts`. */
import type { SchemaObject } from 'ajv';

const text: SchemaObject = { type: 'string', minLength: 1 };
const texts: SchemaObject = { type: 'array', items: text, minItems: 1 };
const word = (...words: string[]): SchemaObject => ({ enum: words });
const table = (of: SchemaObject): SchemaObject => ({ type: 'object', additionalProperties: of });
const row = (required: Record<string, SchemaObject>, optional: Record<string, SchemaObject> = {}): SchemaObject => ({
  type: 'object', required: Object.keys(required), properties: { ...required, ...optional }, additionalProperties: false,
});

const level: SchemaObject = { type: 'integer', minimum: 0, maximum: 40 };
const language = word('kotlin', 'typescript');
const does = word(
  'starts-operation', 'opens-link', 'closes-link', 'disconnects-link', 'subscribes', 'unsubscribes', 'writes-descriptor', 'writes-value', 'reads-value',
  'negotiates-mtu', 'discovers', 'starts-scan', 'stops-scan', 'hints',
);
const member: SchemaObject = {
  ...row({}, {
    since: level, deprecated: level, does: { type: 'array', items: does, minItems: 1, uniqueItems: true }, answer: word('accept-flag', 'accept-status', 'promise', 'object', 'none'),
    slot: word('guarded', 'collides', 'none'), completedBy: texts, sync: word('waits', 'wakes', 'locks', 'unlocks'), sources: texts,
  }),
  type: ['object', 'null'],
};
const signatures = { ...table(member), propertyNames: text };
const constant = row({}, { value: { type: ['number', 'string', 'boolean', 'array'] }, type: text, since: level, deprecated: level, sources: texts });
const type = row({ kind: word('class', 'interface', 'object') }, {
  in: text, extends: texts, params: texts, also: texts, since: level, deprecated: level, sources: texts,
  constants: table(constant), constructors: signatures, statics: signatures, properties: signatures, methods: signatures, callbacks: signatures,
});
const platform = row({ language, sources: texts, types: table(type) }, { package: text, functions: signatures, aliases: table(text), globals: table(text) });

const runs = word('now', 'now-maybe', 'now-many', 'later', 'later-many', 'at-teardown');
const passed = word(
  'receiver', 'first-argument', 'element', 'index', 'entry', 'key', 'value', 'accumulator', 'settled-value', 'error', 'scope', 'continuation', 'resolve', 'reject', 'event', 'unknown',
);
const runners = row({
  sources: texts,
  runners: {
    type: 'array',
    items: row({ names: texts, language: word('kotlin', 'typescript', 'both'), lambda: { anyOf: [{ type: 'integer', minimum: 0 }, word('last', 'every')] }, runs, value: word('yielded', 'tested', 'dropped', 'awaited', 'collected') }, {
      on: texts, passes: { type: 'array', items: passed }, self: passed, result: text, returned: runs,
      yields: word(
        'lambda', 'lambda-or-null', 'receiver', 'receiver-or-null', 'first-argument', 'element', 'element-or-null', 'list-of-lambda', 'promise-of-lambda', 'deferred',
        'result-of-lambda', 'resumed', 'receiver-of-lambda', 'job', 'boolean', 'number', 'void',
      ),
      order: word('mutual-exclusion', 'one-thread', 'after-previous'), waits: word('resume', 'completion'), failure: word('caller', 'promise', 'nobody', 'handler'),
    }),
  },
});
const lifecycle = row({
  sources: texts,
  lifecycle: { type: 'array', items: row({ names: texts, language: word('kotlin', 'typescript', 'both'), on: texts, phase: word('start', 'teardown', 'pause'), certain: { type: 'boolean' } }) },
});

const granted: SchemaObject = { anyOf: [{ type: 'integer', minimum: 1 }, word('none')] };
const limits = row({
  limits: {
    type: 'array',
    items: row({
      name: text, constant: text, per: text,
      ranges: { type: 'array', minItems: 1, items: row({ from: level, release: text, value: granted, source: text }, { to: level, later: row({ release: text, value: granted, source: text }) }) },
    }, { unit: word('bytes', 'milliseconds', 'seconds'), firmFrom: level }),
  },
});

const statusCodes = row({
  codes: { type: 'array', items: row({ value: { type: 'integer', minimum: 0 }, name: text, where: word('att', 'android', 'hci', 'scan', 'advertise', 'bluetooth-status'), meaning: text, sources: texts }) },
});
const sources = table(row({ title: text, where: text }));

const numberKind = word('service', 'characteristic', 'descriptor', 'declaration', 'member');
const numbers = row({ kind: numberKind, origin: text, numbers: table(row({ name: text }, { id: text, kind: numberKind, origin: text, web: { anyOf: [{ const: true }, text] } })) }, { prefix: text });
const uuid128: SchemaObject = { type: 'string', pattern: '^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$' };
const blocklist = row({
  origin: text,
  entries: { type: 'array', items: row({ kind: word('service', 'characteristic', 'descriptor'), uuid: uuid128, name: text, excludes: word('all', 'reads', 'writes') }) },
  manufacturers: { type: 'array', items: row({ company: { type: 'integer' }, prefix: { type: 'array', items: { type: 'integer' } }, name: text }) },
});
const companies = row({ origin: text, companies: table(text) });
const appearance = row({ origin: text, categories: table(row({ name: text }, { sub: table(text) })) });

const byPath: Readonly<Record<string, SchemaObject>> = {
  'runners.yaml': runners,
  'lifecycle.yaml': lifecycle,
  'limits.yaml': limits,
  'status-codes.yaml': statusCodes,
  'sources.yaml': sources,
  'assigned/blocklist.yaml': blocklist,
  'assigned/companies.yaml': companies,
  'assigned/appearance.yaml': appearance,
};

/** The schema of a data file; a file without one of its own holds types of a platform, or assigned UUIDs. */
export function schemaFor(path: string): SchemaObject {
  return byPath[path] ?? (path.startsWith('assigned/') ? numbers : platform);
}
