/**
 * What stands at an offset of a profile's text: the way of keys and positions that leads there, whether it is a key or a
 * value, and the attribute around it. For completion and hovers; it works on text that is being typed.
 */
import type { Span } from '../ir/ir.js';
import { entryOf, isMissing, readTree, type Tree } from './tree.js';
import { spellUuid } from './uuid.js';

export interface Located {
  /**
   * Keys and positions from the top down, that of the key or value at the offset included (an empty one for a key of which
   * nothing is typed yet); `schemaAt` reads it.
   */
  readonly path: readonly (string | number)[];
  readonly part: 'key' | 'value';
  /** The key or value, as far as it is typed: what a completion replaces. Empty where nothing is typed yet. */
  readonly at: Span;
  /** Keys that stand in the same map already, the one at the offset left out. */
  readonly siblings: readonly string[];
  /** The innermost attribute around the offset. */
  readonly attribute?: LocatedAttribute;
}

export interface LocatedAttribute {
  readonly kind: 'service' | 'characteristic' | 'descriptor';
  /** 128-bit lower-case text; absent where it is missing or unreadable. */
  readonly uuid?: string;
}

export function locate(text: string, offset: number): Located | undefined {
  const { text: whole, inserted } = completed(text, offset);
  const { tree } = readTree(whole);
  if (tree === undefined) return undefined;
  const found = find(tree, offset, { path: [], siblings: [] });
  if (found === undefined) return undefined;
  return { ...found, path: found.path.map((step) => (step === FILLER ? '' : step)), at: shrunk(found.at, inserted) };
}

/** A name that nobody types, put where a key or value is still to come. */
const FILLER = 'x\u{2060}x';

/**
 * The text with what the line at the offset lacks: a filler on an empty place, a colon after a key that is being typed.
 * Otherwise YAML would read an unfinished key as a part of its neighbour.
 */
function completed(text: string, offset: number): { readonly text: string; readonly inserted?: { readonly at: number; readonly length: number } } {
  const lineStart = text.lastIndexOf('\n', offset - 1) + 1;
  const nextLine = text.indexOf('\n', offset);
  const lineEnd = nextLine < 0 ? text.length : nextLine;
  const before = text.slice(lineStart, offset);
  const after = text.slice(offset, lineEnd).replace(/\r$/, '').replace(/(^|\s)#.*$/, '');
  const put = (at: number, what: string): ReturnType<typeof completed> => ({ text: text.slice(0, at) + what + text.slice(at), inserted: { at, length: what.length } });

  const inBrackets = /[[{,]\s*$/.test(text.slice(0, lineStart));
  if (!inBrackets && /^\s*$/.test(before) && after.trim() === '') return put(offset, `${FILLER}: `);
  if (!inBrackets && /^\s*[\w$. ]*[\w$.]$/.test(before) && /^[\w$.]*$/.test(after)) return put(offset + after.length, ':');
  const valueIsDue = /[[{,]\s*$/.test(text.slice(0, offset)) || /[:-]\s+$/.test(before);
  if (valueIsDue && /^\s*([\]},]|$)/.test(after)) return put(offset, FILLER);
  return { text };
}

/** A place in the completed text, in the text as it is. */
function shrunk(at: Span, inserted: { readonly at: number; readonly length: number } | undefined): Span {
  if (inserted === undefined) return at;
  const back = (offset: number): number => (offset <= inserted.at ? offset : Math.max(inserted.at, offset - inserted.length));
  return { start: back(at.start), end: back(at.end) };
}

interface Around {
  readonly path: readonly (string | number)[];
  readonly siblings: readonly string[];
  readonly attribute?: LocatedAttribute;
}

/** The key or scalar that the offset touches. Every value lies within its parent, so the first that fits is the one. */
function find(tree: Tree, offset: number, around: Around): Located | undefined {
  if (tree.kind === 'scalar') return touches(tree.at, offset) ? { ...around, part: 'value', at: tree.at } : undefined;
  if (tree.kind === 'list') {
    for (const [index, item] of tree.items.entries()) {
      const found = find(item, offset, { ...around, path: [...around.path, index] });
      if (found !== undefined) return found;
    }
    return undefined;
  }
  const inside = { ...around, ...attributeOf(tree, around.path) };
  for (const { key, keyAt, value } of tree.entries) {
    const here = { ...inside, path: [...around.path, key], siblings: tree.entries.map((entry) => entry.key).filter((other) => other !== key) };
    if (touches(keyAt, offset)) return { ...here, part: 'key', at: keyAt };
    if (isMissing(value) && value.at.start === value.at.end) continue;
    const found = find(value, offset, here);
    if (found !== undefined) return found;
  }
  return undefined;
}

function touches(at: Span, offset: number): boolean {
  return at.start <= offset && offset <= at.end;
}

const ATTRIBUTE_LISTS: Readonly<Record<string, LocatedAttribute['kind']>> = {
  services: 'service', characteristics: 'characteristic', descriptors: 'descriptor',
};

/** A map in one of the attribute lists is an attribute. */
function attributeOf(tree: Tree, path: readonly (string | number)[]): { readonly attribute?: LocatedAttribute } {
  const [list, position] = path.slice(-2);
  if (typeof list !== 'string' || typeof position !== 'number') return {};
  const kind = Object.hasOwn(ATTRIBUTE_LISTS, list) ? ATTRIBUTE_LISTS[list] : undefined;
  if (kind === undefined) return {};
  const value = entryOf(tree, 'uuid')?.value;
  const uuid = value?.kind === 'scalar' ? spellUuid(value.text) : undefined;
  return { attribute: { kind, ...(uuid !== undefined && 'value' in uuid ? { uuid: uuid.value } : {}) } };
}
