/**
 * The YAML of a profile as a plain tree of maps, lists and scalars, each with its place and scalars with the very text they
 * were written in. Syntax errors become problems and the rest is kept. It knows nothing of profiles.
 *
 * Depth and size are bounded before anything recursive runs, so no text can overflow the stack or the memory; aliases share
 * the tree of their anchor, and an alias inside its own anchor is a problem, so the tree is finite.
 */
import { Composer, isAlias, isCollection, isMap, isScalar, Lexer, Parser, type CST, type Document, type Node } from 'yaml';
import type { Span } from '../ir/ir.js';
import type { Problem } from './types.js';

export type Tree = MapTree | ListTree | ScalarTree;

export interface MapTree {
  readonly kind: 'map';
  readonly at: Span;
  /** In order, keys that stand twice included. */
  readonly entries: readonly Entry[];
}

export interface Entry {
  readonly key: string;
  readonly keyAt: Span;
  readonly value: Tree;
}

export interface ListTree {
  readonly kind: 'list';
  readonly at: Span;
  readonly items: readonly Tree[];
}

export interface ScalarTree {
  readonly kind: 'scalar';
  /** Quotes included. Where no value is written, the empty place at which it would stand. */
  readonly at: Span;
  /** As YAML reads it. */
  readonly value: string | number | bigint | boolean | null;
  /** As it is written, without quotes. */
  readonly text: string;
  /** Where `text` stands, character for character; with an escape in it, all of the scalar. */
  readonly textAt: Span;
}

export interface TreeReading {
  /** Absent where the text holds no value at all, or cannot be read as a whole. */
  readonly tree?: Tree;
  readonly problems: readonly Problem[];
}

/** A profile of several hundred attributes has a tenth of this. */
const MOST_CHARACTERS = 500_000;
/** Lists and maps inside one another; a profile needs a dozen. */
const MOST_DEPTH = 64;
/** Values, those repeated by aliases included. */
const MOST_NODES = 50_000;

export function readTree(text: string): TreeReading {
  if (text.length > MOST_CHARACTERS) {
    return { problems: [error(wholeOf(text), `This file is longer than ${MOST_CHARACTERS} characters and is not read.`)] };
  }
  const tokens = tokensOf(text);
  if ('tooDeep' in tokens) return { problems: [error(tokens.tooDeep, `Values stand more than ${MOST_DEPTH} levels deep here; the file is not read.`)] };
  const documents = [...new Composer({ uniqueKeys: false, logLevel: 'silent' }).compose(tokens, true, text.length)];
  const [first, second] = documents;
  if (first === undefined) return { problems: [] };
  const converter = new Converter(text);
  converter.take(first);
  if (second !== undefined) converter.problems.push(error(within(text, second.range[0], second.range[0] + 1), 'A profile is one YAML document; what follows this line is not read.'));
  const tree = first.contents === null || isNothing(first.contents) ? undefined : converter.convert(first.contents);
  return { ...(tree === undefined ? {} : { tree }), problems: converter.problems };
}

/** The concrete syntax of all documents, unless something in it is nested too deeply for the recursive steps that follow. */
function tokensOf(text: string): CST.Token[] | { readonly tooDeep: Span } {
  const parser = new Parser();
  const tokens: CST.Token[] = [];
  for (const lexeme of new Lexer().lex(text)) {
    tokens.push(...parser.next(lexeme));
    if (parser.stack.length > MOST_DEPTH) return { tooDeep: within(text, parser.offset - 1, parser.offset) };
  }
  tokens.push(...parser.end());
  return tokens;
}

/** Turns one document's nodes into the tree, and collects what is wrong on the way. */
class Converter {
  readonly problems: Problem[] = [];
  /** Finished anchors. An alias inside its own anchor does not find it. */
  private readonly anchors = new Map<string, Tree>();
  private nodes = 0;
  private readonly sizes = new Map<Tree, number>();

  constructor(private readonly text: string) {}

  /** The document's own errors and warnings, each once. */
  take(document: Document.Parsed): void {
    const seen = new Set<string>();
    for (const { code, message, pos, name } of [...document.errors, ...document.warnings]) {
      const said = sentence(code, message);
      if (seen.has(`${pos[0]} ${said}`)) continue;
      seen.add(`${pos[0]} ${said}`);
      this.problems.push({ at: within(this.text, pos[0], pos[1]), message: said, severity: name === 'YAMLParseError' ? 'error' : 'warning' });
    }
  }

  convert(node: Node): Tree {
    const before = this.nodes++;
    if (isAlias(node)) return this.resolve(node.source, spanOf(node));
    const tree = this.own(node);
    this.sizes.set(tree, this.nodes - before);
    if ((isScalar(node) || isCollection(node)) && node.anchor !== undefined) this.anchors.set(node.anchor, tree);
    return tree;
  }

  private own(node: Node): Tree {
    if (isMap(node)) return { kind: 'map', at: spanOf(node), entries: node.items.flatMap((pair) => this.entry(pair as { key: unknown; value: unknown })) };
    if (isCollection(node)) return { kind: 'list', at: spanOf(node), items: node.items.map((item) => this.convert(item as Node)) };
    return this.scalar(node);
  }

  private entry({ key, value }: { readonly key: unknown; readonly value: unknown }): Entry[] {
    if (!isScalar(key) || key.range == null || key.range[0] === key.range[1]) {
      const at = (key as Node | null)?.range ?? (value as Node | null)?.range;
      if (at != null) this.problems.push(error(within(this.text, at[0], at[1]), 'A key must be plain text.'));
      return [];
    }
    const keyAt = { start: key.range[0], end: key.range[1] };
    const { text } = this.scalar(key);
    if (value === null || value === undefined) return [{ key: text, keyAt, value: nothing(keyAt.end) }];
    return [{ key: text, keyAt, value: this.convert(value as Node) }];
  }

  private scalar(node: Node): ScalarTree {
    const at = spanOf(node);
    if (!isScalar(node)) return nothing(at.start);
    const value = scalarValue(node.value);
    const written = this.text.slice(at.start, at.end);
    const quoted = node.type === 'QUOTE_DOUBLE' || node.type === 'QUOTE_SINGLE';
    if (node.type === 'PLAIN') return { kind: 'scalar', at, value, text: written, textAt: at };
    const inner = { start: at.start + 1, end: at.end - 1 };
    if (quoted && written.length >= 2 && this.text.slice(inner.start, inner.end) === node.value) {
      return { kind: 'scalar', at, value, text: node.value, textAt: inner };
    }
    return { kind: 'scalar', at, value, text: String(node.value ?? '').trim(), textAt: at };
  }

  /** An alias stands for the tree of its anchor, which keeps the anchor's place: there the text would have to change. */
  private resolve(anchor: string, at: Span): Tree {
    const target = this.anchors.get(anchor);
    if (target === undefined) {
      this.problems.push(error(at, `No anchor "&${anchor}" stands before this.`));
      return nothing(at.end);
    }
    const size = this.sizes.get(target) ?? 1;
    if (this.nodes + size > MOST_NODES) {
      this.problems.push(error(at, `With what is repeated here, the profile has more than ${MOST_NODES} values; this is left out.`));
      return nothing(at.end);
    }
    this.nodes += size;
    return target;
  }
}

// ---- Small pieces -------------------------------------------------------

/** Whether a scalar is only the place of one: nothing is written there, or YAML's `null`. */
export function isMissing(tree: Tree): boolean {
  return tree.kind === 'scalar' && tree.value === null;
}

const indexes = new WeakMap<MapTree, ReadonlyMap<string, Entry>>();

/** The entries by their keys; of a key that stands twice the first. */
export function byKey(map: MapTree): ReadonlyMap<string, Entry> {
  const known = indexes.get(map);
  if (known !== undefined) return known;
  const index = new Map<string, Entry>();
  for (const entry of map.entries) if (!index.has(entry.key)) index.set(entry.key, entry);
  indexes.set(map, index);
  return index;
}

/** The entry of a key, if the tree is a map and has it. */
export function entryOf(tree: Tree | undefined, key: string): Entry | undefined {
  return tree?.kind === 'map' ? byKey(tree).get(key) : undefined;
}

function isNothing(node: Node): boolean {
  return isScalar(node) && node.value === null && (node.range == null || node.range[0] === node.range[1]);
}

function nothing(offset: number): ScalarTree {
  const at = { start: offset, end: offset };
  return { kind: 'scalar', at, value: null, text: '', textAt: at };
}

function scalarValue(value: unknown): ScalarTree['value'] {
  return typeof value === 'string' || typeof value === 'number' || typeof value === 'bigint' || typeof value === 'boolean' ? value : null;
}

function spanOf(node: Node): Span {
  const range = node.range;
  return range == null ? { start: 0, end: 0 } : { start: range[0], end: range[1] };
}

function wholeOf(text: string): Span {
  return { start: 0, end: text.length };
}

/** A span that lies in the text and, where the text has any, covers a character. */
function within(text: string, start: number, end: number): Span {
  const last = Math.min(Math.max(end, start + 1, 1), text.length);
  return { start: Math.max(0, Math.min(start, last - 1)), end: last };
}

function error(at: Span, message: string): Problem {
  return { at, message, severity: 'error' };
}

/** The parser's message as a whole sentence; the commonest in other words, because they say what to do. */
function sentence(code: string, message: string): string {
  switch (code) {
    case 'TAB_AS_INDENT': return 'YAML does not allow tabs as indentation; use spaces.';
    case 'MULTILINE_IMPLICIT_KEY': return 'A key and its colon must stand on one line; is a ":" missing?';
    case 'BLOCK_AS_IMPLICIT_KEY': return 'A second key on the same line; begin a new line, or put the value in quotes.';
    default: break;
  }
  if (message === 'All mapping items must start at the same column') return 'This key does not begin at the same column as its neighbours.';
  const closing = /^(?:Flow (?:sequence|map) .*end with a|Missing closing) (["'\]}])/.exec(message)?.[1];
  if (closing !== undefined) return `A closing ${closing} is missing.`;
  return `${message}.`;
}
