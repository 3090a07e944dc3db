/**
 * Kotlin text as it is while somebody types: one function's body damaged in one
 * place. Deterministic: a seed decides which function and which place.
 */
import type { Block, Class, File, Fn, Span } from '../../server/ir/ir.js';
import { findAll } from '../../server/ir/walk.js';
import { IDENT, KEYWORD, lex, NUMBER, QUOTE_CLOSE, SIGN, type Tokens } from '../../server/frontend/kotlin/lexer.js';

/** Numbers in [0, 1) from a seed (mulberry32). */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** What is taken out of the text, or undefined where the body has no such place. */
type Cut = (body: Block, text: string, tokens: Tokens, pick: <T>(from: readonly T[]) => T | undefined) => Span | undefined;

export const DAMAGES: Readonly<Record<string, Cut>> = {
  'a call cut off behind its bracket': (body, text, _, pick) => callCut(body, text, pick, 1),
  'a call cut off behind its dot': (body, text, _, pick) => callCut(body, text, pick, 0),
  'a line cut off inside a call': (body, text, _, pick) => {
    const cut = callCut(body, text, pick, 1);
    return cut && { start: cut.start, end: Math.min(lineEnd(text, cut.start), body.span.end - 1) };
  },
  'a token deleted': (body, _, tokens, pick) => tokenCut(body, tokens, pick, (kind) => kind === IDENT || kind === KEYWORD || kind === NUMBER || kind === SIGN),
  'a round bracket left open': (body, _, tokens, pick) => tokenCut(body, tokens, pick, (kind, value) => kind === SIGN && value === ')'),
  'a brace left open': (body, _, tokens, pick) => tokenCut(body, tokens, pick, (kind, value) => kind === SIGN && value === '}'),
  'a string left open': (body, text, tokens, pick) => tokenCut(body, tokens, pick, (kind, _, span) => kind === QUOTE_CLOSE && text.slice(span.start, span.end) === '"'),
};

/** The end of a call with a receiver, from behind its `(` or, with `keep` 0, from behind its dot. */
function callCut(body: Block, text: string, pick: <T>(from: readonly T[]) => T | undefined, keep: 0 | 1): Span | undefined {
  const calls = findAll(body, 'Call').filter((call) => call.callee.kind === 'Member' && text[call.callee.nameSpan.end] === '(');
  const call = pick(calls);
  if (call?.callee.kind !== 'Member') return undefined;
  const { nameSpan } = call.callee;
  return { start: keep ? nameSpan.end + 1 : nameSpan.start, end: call.span.end };
}

function tokenCut(
  body: Block, tokens: Tokens, pick: <T>(from: readonly T[]) => T | undefined, wanted: (kind: number, value: string, span: Span) => boolean,
): Span | undefined {
  const inside: Span[] = [];
  tokens.kinds.forEach((kind, i) => {
    const span = { start: tokens.starts[i]!, end: tokens.ends[i]! };
    if (span.start > body.span.start && span.end <= body.span.end && wanted(kind, tokens.values[i]!, span)) inside.push(span);
  });
  return pick(inside);
}

function lineEnd(text: string, from: number): number {
  const end = text.indexOf('\n', from);
  return end < 0 ? text.length : end;
}

export interface Damaged {
  readonly text: string;
  /** The owners and names of all functions that the damage leaves whole but for a body. */
  readonly functions: readonly string[];
}

/** The text with one cut in one function's body; undefined where no function has a place for it. */
export function damage(file: File, text: string, cut: Cut, seed: number): Damaged | undefined {
  const random = randomFrom(seed);
  const pick = <T>(from: readonly T[]): T | undefined => from[Math.floor(random() * from.length)];
  const functions = memberFunctions(file);
  const tokens = lex(text);
  for (const { fn } of shuffled(functions, random)) {
    if (!fn.body || text[fn.body.span.start] !== '{') continue;
    const out = cut(fn.body, text, tokens, pick);
    if (!out) continue;
    const inside = (other: Fn): boolean => other !== fn && other.span.start >= fn.span.start && other.span.end <= fn.span.end;
    return {
      text: text.slice(0, out.start) + text.slice(out.end),
      functions: functions.filter((other) => !inside(other.fn)).map((other) => other.path),
    };
  }
  return undefined;
}

function shuffled<T>(items: readonly T[], random: () => number): T[] {
  return items.map((item) => ({ item, key: random() })).sort((a, b) => a.key - b.key).map(({ item }) => item);
}

interface Placed {
  readonly fn: Fn;
  /** `Outer.Inner.name` */
  readonly path: string;
}

/** Functions of files and named classes, not those inside bodies. */
export function memberFunctions(file: File): Placed[] {
  const out: Placed[] = [];
  const add = (owner: string, fns: readonly Fn[]): void => { for (const fn of fns) out.push({ fn, path: `${owner}${fn.name}` }); };
  const visit = (owner: string, of: Class): void => {
    const path = `${owner}${of.name}.`;
    add(path, of.functions);
    for (const inner of of.classes) visit(path, inner);
  };
  add('', file.declarations.filter((declaration) => declaration.kind === 'Fn'));
  for (const declaration of file.declarations) if (declaration.kind === 'Class') visit('', declaration);
  return out;
}

/** How many of the expected paths are there, each as often as it is expected. */
export function countKept(expected: readonly string[], found: readonly string[]): number {
  const left = new Map<string, number>();
  for (const path of found) left.set(path, (left.get(path) ?? 0) + 1);
  let kept = 0;
  for (const path of expected) {
    const count = left.get(path) ?? 0;
    if (count > 0) kept++;
    left.set(path, count - 1);
  }
  return kept;
}
