/**
 * Holds a profile's tree against the schema, and says what the validator found in plain sentences at the right place:
 * an unknown key at the key, a wrong word at the word, a missing key at the beginning of the entry that lacks it.
 */
import { Ajv, type ErrorObject, type ValidateFunction } from 'ajv';
import type { Span } from '../ir/ir.js';
import { nearest, suggestion } from './near.js';
import { ANNOTATIONS, schema, type Schema } from './schema.js';
import { byKey, entryOf, isMissing, type Entry, type Tree } from './tree.js';
import type { Problem } from './types.js';

/** Keys whose value is the text as written, whatever YAML makes of it. */
const READ_AS_WRITTEN: ReadonlySet<string> = new Set(['uuid', 'company']);

let compiled: ValidateFunction | undefined;

function validator(): ValidateFunction {
  if (compiled !== undefined) return compiled;
  const ajv = new Ajv({ allErrors: true, verbose: true, allowUnionTypes: true, strict: true });
  ajv.addVocabulary([...ANNOTATIONS]);
  compiled = ajv.compile(schema);
  return compiled;
}

export function validate(tree: Tree): Problem[] {
  const problems = repetitions(tree);
  const check = validator();
  if (check(plainValue(tree))) return problems;
  for (const error of withoutAlternatives(check.errors ?? [])) {
    const place = placeOf(tree, error.instancePath);
    if (place !== undefined) problems.push(...problemOf(error, place));
  }
  return problems;
}

// ---- From the tree to the validator's values ----------------------------

function plainValue(tree: Tree, key?: string): unknown {
  if (tree.kind === 'list') return tree.items.map((item) => plainValue(item));
  if (tree.kind === 'scalar') return tree.value !== null && key !== undefined && READ_AS_WRITTEN.has(key) ? tree.text : tree.value;
  const value: Record<string, unknown> = Object.create(null);
  for (const [name, entry] of byKey(tree)) value[name] = plainValue(entry.value, name);
  return value;
}

/** Where a message about a value is put, and what the value is. */
interface Place {
  readonly tree: Tree;
  /** The value's key, or undefined for the entry of a list and the whole profile. */
  readonly entry?: Entry;
}

function placeOf(root: Tree, pointer: string): Place | undefined {
  let place: Place = { tree: root };
  for (const part of pointer.split('/').slice(1)) {
    const step = part.replaceAll('~1', '/').replaceAll('~0', '~');
    const parent = place.tree;
    if (parent.kind === 'scalar') return undefined;
    if (parent.kind === 'list') {
      const tree = parent.items[Number(step)];
      if (tree === undefined) return undefined;
      place = { tree };
    } else {
      const entry = entryOf(parent, step);
      if (entry === undefined) return undefined;
      place = { tree: entry.value, entry };
    }
  }
  return place;
}

/**
 * The scalar itself; for a map or a list the key that introduces it, or its first key, since it may run over pages; for an
 * entry that is not there, its dash.
 */
function spanOf({ tree, entry }: Place): Span {
  if (tree.kind === 'scalar' && !isMissing(tree)) return tree.at;
  if (entry !== undefined) return entry.keyAt;
  if (tree.kind === 'map' && tree.entries[0] !== undefined) return tree.entries[0].keyAt;
  if (tree.kind === 'list' && tree.items[0] !== undefined) return spanOf({ tree: tree.items[0] });
  return tree.at.start < tree.at.end ? tree.at : { start: Math.max(0, tree.at.start - 1), end: tree.at.end };
}

// ---- Sentences ----------------------------------------------------------

/**
 * Where the schema offers a word or a list of words, only what is wrong with the alternative that the value resembles:
 * of a list its entries, of anything else that it is none of the words.
 */
function withoutAlternatives(errors: readonly ErrorObject[]): readonly ErrorObject[] {
  const open = new Map(errors.filter((error) => error.keyword === 'anyOf').map((error) => [error.instancePath, error]));
  return errors.filter((error) => {
    if (error.keyword === 'anyOf') return false;
    const choice = open.get(error.instancePath);
    if (choice === undefined) return true;
    const isList = Array.isArray(choice.data);
    return isList ? error.keyword !== 'enum' : error.keyword === 'enum';
  });
}

function problemOf(error: ErrorObject, place: Place): Problem[] {
  const at = spanOf(place);
  const about = error.parentSchema as Schema;
  const subject = place.entry === undefined ? capital(about.title) : `"${place.entry.key}"`;
  const params = error.params as Readonly<Record<string, unknown>>;
  const wrong = (message: string, severity: Problem['severity'] = 'error', where = at): Problem[] => [{ at: where, message, severity }];

  if (isMissing(place.tree)) return missing(error, place, at);
  switch (error.keyword) {
    case 'additionalProperties': return unknownKey(String(params['additionalProperty']), about, place);
    case 'required': return wrong(`${capital(about.title)} needs a "${String(params['missingProperty'])}".`, 'error', spanOf({ tree: place.tree }));
    case 'type': return wrong(`${subject} must be ${wanted(about)}; this is ${kindOf(place.tree)}.${advice(about, place.tree)}`);
    case 'enum': return wrong(wrongWord(place.tree, about));
    case 'minimum': return wrong(`${shown(place.tree)} is ${outside('below', Number(params['limit']), about)}.`);
    case 'maximum': return wrong(`${shown(place.tree)} is ${outside('above', Number(params['limit']), about)}.`);
    case 'minItems': return wrong(`${subject} is an empty list.`, 'warning');
    case 'minLength': return wrong(`${subject} is empty.`, 'warning');
    default: return wrong(`${subject} ${error.message ?? 'is not as the format wants it'}.`);
  }
}

/** A key without a value is what stands there while somebody types. */
function missing(error: ErrorObject, place: Place, at: Span): Problem[] {
  const needed = place.entry !== undefined && place.entry.key === 'uuid';
  const message = place.entry === undefined ? 'This entry is empty.' : `"${place.entry.key}" has no value yet.`;
  return error.keyword === 'type' || error.keyword === 'enum' ? [{ at, message, severity: needed ? 'error' : 'warning' }] : [];
}

function unknownKey(key: string, about: Schema, { tree }: Place): Problem[] {
  if (tree.kind !== 'map') return [];
  const entry = entryOf(tree, key);
  if (entry === undefined) return [];
  const known = Object.keys(about.properties ?? {});
  const free = known.filter((candidate) => entryOf(tree, candidate) === undefined);
  const near = nearest(key, free);
  const help = near === undefined ? `Its keys are ${known.join(', ')}.` : `Did you mean "${near}"?`;
  return [{ at: entry.keyAt, message: `"${key}" is no key of ${about.title}. ${help}`, severity: 'warning' }];
}

function wrongWord(tree: Tree, about: Schema): string {
  if (tree.kind !== 'scalar') return `${capital(about.title)} is a single word; this is ${kindOf(tree)}.`;
  return `"${tree.text}" is not ${about.title}. ${suggestion(tree.text, about.enum ?? [])}`;
}

function outside(side: 'below' | 'above', limit: number, about: Schema): string {
  const meaning = about.bounds?.[side];
  return `${side} ${limit}${meaning === undefined ? '' : `, ${meaning}`}`;
}

/** Keys and words that stand twice in one place. YAML forbids such keys too, but its parser says so at no useful place. */
function repetitions(tree: Tree): Problem[] {
  if (tree.kind === 'scalar') return [];
  const parts = tree.kind === 'list'
    ? tree.items.map((value) => ({ name: value.kind === 'scalar' && !isMissing(value) ? value.text : undefined, at: value.at, value }))
    : tree.entries.map(({ key, keyAt, value }) => ({ name: key, at: keyAt, value }));
  const first = new Map<string, Span>();
  return parts.flatMap(({ name, at, value }): Problem[] => {
    const earlier = name === undefined ? undefined : first.get(name);
    if (name !== undefined && earlier === undefined) first.set(name, at);
    if (earlier === undefined) return repetitions(value);
    const related = [{ at: earlier, message: 'The first one.' }];
    return tree.kind === 'list'
      ? [{ at, message: `"${name}" stands in this list twice.`, severity: 'warning', related }]
      : [{ at, message: `The key "${name}" stands here twice; only the first one counts.`, severity: 'error', related }, ...repetitions(value)];
  });
}

// ---- Words --------------------------------------------------------------

const TYPE_NAMES: Readonly<Record<string, string>> = {
  object: 'a group of keys', array: 'a list', string: 'text', integer: 'a whole number',
};

/** A value that is read as it is written has no type of its own. */
function wanted({ type, title }: Schema): string {
  const types = typeof type === 'string' ? [type] : type ?? [];
  if (types.includes('number')) return title;
  const names = types.map((name) => TYPE_NAMES[name] ?? name);
  return names.length > 1 ? `${names.slice(0, -1).join(', ')} or ${names.at(-1)}` : names[0] ?? 'something else';
}

function kindOf(tree: Tree): string {
  if (tree.kind === 'map') return 'a group of keys';
  if (tree.kind === 'list') return 'a list';
  if (typeof tree.value === 'string') return 'text';
  if (typeof tree.value === 'boolean') return 'a truth value';
  return typeof tree.value === 'number' && !Number.isInteger(tree.value) ? 'a fraction' : 'a number';
}

function advice(about: Schema, tree: Tree): string {
  if (about.type === 'string' && tree.kind === 'scalar') return ' Put it in quotes.';
  if (about.type === 'array' && tree.kind === 'scalar') return ' Put it in square brackets.';
  if (about.type === 'array' && tree.kind === 'map') return ' Begin each entry with a dash.';
  if (about.type === 'object' && tree.kind === 'list') return ' Leave out the dashes.';
  return '';
}

function shown(tree: Tree): string {
  return tree.kind === 'scalar' ? (typeof tree.value === 'string' ? `"${tree.text}"` : tree.text) : 'This entry';
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
