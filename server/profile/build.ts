/**
 * From the YAML tree to the profile: every part that can be read is kept, whatever is wrong beside it. What the schema
 * already says about types, words and bounds is not said again here; only the spelling of UUIDs, company identifiers and
 * function names is judged, because the schema cannot.
 */
import type { Span } from '../ir/ir.js';
import { GREATEST_MTU, LEAST_MTU, LONGEST_VALUE } from './figures.js';
import { platforms, properties, requirements, roles } from './schema.js';
import { entryOf, isMissing, type MapTree, type ScalarTree, type Tree } from './tree.js';
import type {
  BrowserMinimum, Characteristic, Descriptor, Device, FunctionList, FunctionName, Link, Placed, Problem, Profile, Requirement, Security, Service, Size,
  StatedAndroid, StatedBrowser, StatedTargets, Wrapper,
} from './types.js';
import { spellCompany, spellUuid, type Spelled } from './uuid.js';

export function build(tree: MapTree, path: string): { readonly profile: Profile; readonly problems: Problem[] } {
  const builder = new Builder();
  const profile = builder.profile(tree, path);
  return { profile, problems: builder.problems };
}

class Builder {
  readonly problems: Problem[] = [];

  profile(tree: MapTree, path: string): Profile {
    return {
      path,
      device: this.device(valueOf(tree, 'device')),
      targets: this.targets(valueOf(tree, 'targets')),
      link: this.link(valueOf(tree, 'link')),
      services: itemsOf(valueOf(tree, 'services')).flatMap((item) => (item.kind === 'map' ? [this.service(item)] : [])),
      ...part('queue', this.functions(tree, 'queue')),
      ...part('teardown', this.functions(tree, 'teardown')),
      wrappers: this.wrappers(valueOf(tree, 'wrappers')),
    };
  }

  private device(tree: Tree | undefined): Device {
    return {
      ...part('name', textOf(tree, 'name')),
      ...part('maker', textOf(tree, 'maker')),
      ...part('company', this.spelled(tree, 'company', spellCompany)),
      ...part('description', textOf(tree, 'description')),
    };
  }

  // ---- Targets and link

  private targets(tree: Tree | undefined): StatedTargets {
    return { ...part('android', this.android(tree)), ...part('browser', this.browser(tree)) };
  }

  private android(targets: Tree | undefined): StatedAndroid | undefined {
    const entry = entryOf(targets, 'android');
    if (entry?.value.kind !== 'map') return undefined;
    return {
      at: entry.keyAt,
      ...part('minimum', wholeOf(entry.value, 'minimum', 1)),
      ...part('target', wholeOf(entry.value, 'target', 1)),
    };
  }

  private browser(targets: Tree | undefined): StatedBrowser | undefined {
    const entry = entryOf(targets, 'browser');
    if (entry?.value.kind !== 'map') return undefined;
    const minimums = valueOf(entry.value, 'minimum');
    const minimum = entriesOf(minimums).flatMap(({ key, keyAt }): BrowserMinimum[] => {
      const version = wholeOf(minimums, key, 1);
      return version === undefined ? [] : [{ name: key.toLowerCase(), at: keyAt, version: version.value }];
    });
    return { at: entry.keyAt, minimum, platforms: wordsOf(valueOf(entry.value, 'platforms'), platforms) };
  }

  private link(tree: Tree | undefined): Link {
    const mtu = valueOf(tree, 'att_mtu');
    return {
      ...part('requestedMtu', wholeOf(mtu, 'requested', LEAST_MTU, GREATEST_MTU)),
      ...part('negotiatedMtu', wholeOf(mtu, 'negotiated', LEAST_MTU, GREATEST_MTU)),
      ...part('peripherals', wholeOf(tree, 'peripherals', 1)),
    };
  }

  // ---- Attributes

  private service(tree: MapTree): Service {
    const characteristics = itemsOf(valueOf(tree, 'characteristics')).flatMap((item) => (item.kind === 'map' ? [this.characteristic(item)] : []));
    return { kind: 'service', ...this.identity(tree), characteristics };
  }

  private characteristic(tree: MapTree): Characteristic {
    const stated = valueOf(tree, 'properties');
    const listed = valueOf(tree, 'descriptors');
    return {
      kind: 'characteristic',
      ...this.identity(tree),
      ...part('properties', stated?.kind === 'list' ? wordsOf(stated, properties) : undefined),
      ...part('size', this.size(tree)),
      security: security(tree),
      ...part('descriptors', listed?.kind === 'list' ? listed.items.flatMap((item) => (item.kind === 'map' ? [this.descriptor(item)] : [])) : undefined),
    };
  }

  private descriptor(tree: MapTree): Descriptor {
    return { kind: 'descriptor', ...this.identity(tree), ...part('size', this.size(tree)), security: security(tree) };
  }

  private identity(tree: MapTree): { at: Span; uuid?: Placed<string>; name?: Placed<string> } {
    return { at: tree.at, ...part('uuid', this.spelled(tree, 'uuid', spellUuid)), ...part('name', textOf(tree, 'name')) };
  }

  private size(tree: MapTree): Size | undefined {
    const entry = entryOf(tree, 'size');
    if (entry === undefined) return undefined;
    const fixed = wholeOf(tree, 'size', 0, LONGEST_VALUE);
    if (fixed !== undefined) return { at: fixed.at, minimum: fixed.value, maximum: fixed.value };
    const minimum = wholeOf(entry.value, 'minimum', 0, LONGEST_VALUE);
    const maximum = wholeOf(entry.value, 'maximum', 0, LONGEST_VALUE);
    if (minimum === undefined && maximum === undefined) return undefined;
    if (minimum !== undefined && maximum !== undefined && minimum.value > maximum.value) {
      this.problems.push({
        at: minimum.at, message: `The shortest value, ${minimum.value} bytes, is longer than the longest, ${maximum.value}.`, severity: 'error',
        related: [{ at: maximum.at, message: 'The longest.' }],
      });
      return undefined;
    }
    return { at: entry.value.at, minimum: minimum?.value ?? 0, maximum: maximum?.value ?? LONGEST_VALUE };
  }

  /** A value that is read from its text: a UUID or a company identifier. */
  private spelled<T>(tree: Tree | undefined, key: string, spell: (text: string) => Spelled<T>): Placed<T> | undefined {
    const value = valueOf(tree, key);
    if (value?.kind !== 'scalar') return undefined;
    const read = spell(value.text);
    if ('value' in read) return { value: read.value, at: value.textAt };
    this.problems.push({ at: inside(value, read.at), message: read.message, severity: 'error' });
    return undefined;
  }

  // ---- Functions of the app

  private functions(tree: MapTree, key: string): FunctionList | undefined {
    const entry = entryOf(tree, key);
    if (entry === undefined) return undefined;
    const items = entry.value.kind === 'scalar' ? [entry.value] : itemsOf(entry.value);
    const functions = items.flatMap((item) => (item.kind === 'scalar' && typeof item.value === 'string' ? this.functionName(item.text, item.textAt) : []));
    return functions.length === 0 ? undefined : { at: entry.keyAt, functions };
  }

  private wrappers(tree: Tree | undefined): Wrapper[] {
    return entriesOf(tree).flatMap(({ key, keyAt, value }) =>
      this.functionName(key, keyAt).map((name) => ({ ...name, does: value.kind === 'list' ? wordsOf(value, roles) : words([value], roles) })));
  }

  private functionName(name: string, span: Span): FunctionName[] {
    const fault = nameFault(name);
    if (fault === undefined) return [{ name, span }];
    this.problems.push({ at: span, message: `"${name}" is not the name of a function: ${fault}`, severity: 'error' });
    return [];
  }
}

/** What is wrong with the spelling of `Class.function`, ending the sentence; letters are those of Kotlin and TypeScript. */
function nameFault(name: string): string | undefined {
  if (/^[\p{L}_$][\p{L}\p{N}_$]*(\.[\p{L}_$][\p{L}\p{N}_$]*)*$/u.test(name)) return undefined;
  if (/[()]/.test(name)) return 'leave out the parentheses.';
  if (/[#:/]/.test(name)) return 'write a dot between the class and the function.';
  if (/\s/.test(name)) return 'it may hold no spaces.';
  if (/^\.|\.$|\.\./.test(name)) return 'a part before or after a dot is missing.';
  return 'write "Class.function", or "function" for one outside any class.';
}

// ---- Values of the tree -------------------------------------------------

function valueOf(tree: Tree | undefined, key: string): Tree | undefined {
  const value = entryOf(tree, key)?.value;
  return value === undefined || isMissing(value) ? undefined : value;
}

function itemsOf(tree: Tree | undefined): readonly Tree[] {
  return tree?.kind === 'list' ? tree.items : [];
}

function entriesOf(tree: Tree | undefined): MapTree['entries'] {
  return tree?.kind === 'map' ? tree.entries : [];
}

function textOf(tree: Tree | undefined, key: string): Placed<string> | undefined {
  const value = valueOf(tree, key);
  return value?.kind === 'scalar' && typeof value.value === 'string' && value.value !== '' ? { value: value.value, at: value.at } : undefined;
}

/** A whole number within its bounds; the schema has said so where it is not. */
function wholeOf(tree: Tree | undefined, key: string, least: number, greatest = Number.MAX_SAFE_INTEGER): Placed<number> | undefined {
  const value = valueOf(tree, key);
  if (value?.kind !== 'scalar' || typeof value.value !== 'number') return undefined;
  const fits = Number.isInteger(value.value) && value.value >= least && value.value <= greatest;
  return fits ? { value: value.value, at: value.at } : undefined;
}

function wordsOf<T extends string>(tree: Tree | undefined, known: readonly T[]): Placed<T>[] {
  return words(itemsOf(tree), known);
}

/** The known words among these values, each once. */
function words<T extends string>(trees: readonly Tree[], known: readonly T[]): Placed<T>[] {
  const found = new Map<T, Placed<T>>();
  for (const tree of trees) {
    const word = tree.kind === 'scalar' ? known.find((candidate) => candidate === tree.value) : undefined;
    if (word !== undefined && !found.has(word)) found.set(word, { value: word, at: tree.at });
  }
  return [...found.values()];
}

function security(tree: MapTree): Security {
  const stated = valueOf(tree, 'security');
  const required = (key: string): Placed<Requirement>[] => {
    const value = valueOf(stated, key);
    return value === undefined ? [] : words(value.kind === 'list' ? value.items : [value], requirements);
  };
  return { read: required('read'), write: required('write') };
}

/** A place relative to a scalar's text, in the file. With an escape in the scalar the places do not match: then all of it. */
function inside(scalar: ScalarTree, at: Span): Span {
  const { start, end } = scalar.textAt;
  return end - start === scalar.text.length ? { start: start + at.start, end: start + at.end } : scalar.at;
}

/** A property that is left out, not undefined, where there is no value. */
function part<K extends string, T>(key: K, value: T | undefined): { readonly [P in K]?: T } {
  return (value === undefined ? {} : { [key]: value }) as { readonly [P in K]?: T };
}
