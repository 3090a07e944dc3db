/** Operators and their precedence. */
import type { Cursor } from './cursor.js';
import { CHAR, IDENT, KEYWORD, LABEL, NUMBER, QUOTE_OPEN, SIGN } from './lexer.js';
import { parsePostfix } from './parse-calls.js';
import { atAnnotation, parseAnnotation } from './parse-modifiers.js';
import { parseType } from './parse-types.js';
import { beginsDeclarationLine } from './recovery.js';
import type { Expr } from './tree.js';

/** Binary operators, the loosest first. A name between two operands (`a to b`) stands at its own place among them. */
const LEVELS: readonly (readonly string[])[] = [
  ['||'], ['&&'], ['==', '!=', '===', '!=='], ['<', '>', '<=', '>='], ['in', '!in', 'is', '!is'], ['?:'], [],
  ['..', '..<'], ['+', '-'], ['*', '/', '%'], ['as', 'as?'],
];
const LEVEL_OF = new Map<string, number>(LEVELS.flatMap((ops, level) => ops.map((op): [string, number] => [op, level])));
const CHECK_LEVEL = 4, INFIX_LEVEL = 6, CAST_LEVEL = 10, LOOSEST = 0;

/** Operators that may begin a line; any other one there begins a statement. */
const MAY_BEGIN_LINE = new Set(['as', 'as?', '?:', '&&', '||']);

export function parseExpression(c: Cursor): Expr {
  return binary(c, LOOSEST);
}

/** An expression whose operators bind at least as tight as `loosest`. */
function binary(c: Cursor, loosest: number): Expr {
  const first = c.at;
  let left = parsePrefix(c);
  let tightest = CAST_LEVEL;
  for (;;) {
    const level = operatorLevel(c);
    if (level < loosest || level > tightest) return left;
    tightest = level;
    if (level === INFIX_LEVEL) left = infix(c, first, left);
    else if (level === CAST_LEVEL) left = cast(c, first, left);
    else if (level === CHECK_LEVEL) left = check(c, first, left);
    else {
      const op = c.value;
      c.at++;
      const right = binary(c, level + 1);
      left = { kind: 'Binary', span: c.spanFrom(first), op, left, right };
    }
  }
}

/** The level of the operator here, or -1 if none continues the expression. */
function operatorLevel(c: Cursor): number {
  if (c.kind === IDENT) return continuesAsInfix(c) ? INFIX_LEVEL : -1;
  if (c.kind !== SIGN && c.kind !== KEYWORD) return -1;
  const level = LEVEL_OF.get(c.value);
  if (level === undefined) return -1;
  return c.atNewline() && !MAY_BEGIN_LINE.has(c.value) ? -1 : level;
}

function continuesAsInfix(c: Cursor): boolean {
  if (c.atNewline() || !startsExpression(c, c.at + 1)) return false;
  return !(c.isNewlineAt(c.at) && beginsDeclarationLine(c));
}

function infix(c: Cursor, first: number, left: Expr): Expr {
  const name = c.ident();
  const right = binary(c, INFIX_LEVEL + 1);
  return { kind: 'Infix', span: c.spanFrom(first), left, name, right };
}

function cast(c: Cursor, first: number, value: Expr): Expr {
  const safe = c.value === 'as?';
  c.at++;
  const type = parseType(c);
  return { kind: 'AsCast', span: c.spanFrom(first), value, type, safe };
}

function check(c: Cursor, first: number, left: Expr): Expr {
  const op = c.value;
  c.at++;
  if (op === 'is' || op === '!is') {
    const type = parseType(c);
    return { kind: 'IsCheck', span: c.spanFrom(first), value: left, type, not: op === '!is' };
  }
  const right = binary(c, CHECK_LEVEL + 1);
  return { kind: 'Binary', span: c.spanFrom(first), op, left, right };
}

const STARTING_SIGNS = new Set(['(', '{', '[', '-', '+', '!', '++', '--', '::', '@', '!!']);
const NOT_STARTING_KEYWORDS = new Set(['in', 'is', 'as', 'else', 'class', 'val', 'var', 'package', 'typealias', 'interface']);

/** Whether an expression can begin with the token at `index`. */
export function startsExpression(c: Cursor, index = c.at): boolean {
  switch (c.kindAt(index)) {
    case IDENT: case NUMBER: case CHAR: case QUOTE_OPEN: case LABEL: return true;
    case KEYWORD: return !NOT_STARTING_KEYWORDS.has(c.valueAt(index));
    case SIGN: return STARTING_SIGNS.has(c.valueAt(index));
    default: return false;
  }
}

const PREFIXES = new Set(['-', '+', '!', '++', '--', '!!']);

function parsePrefix(c: Cursor): Expr {
  return c.deeper(() => prefix(c), () => ({ kind: 'Broken', span: c.emptySpan(), children: [] }));
}

function prefix(c: Cursor): Expr {
  const first = c.at;
  if (c.kind === SIGN && PREFIXES.has(c.value)) {
    const op = c.value;
    c.at++;
    const value = parsePrefix(c);
    // `!!x` is a double negation, whatever the lexer made of it.
    if (op === '!!') {
      const inner: Expr = { kind: 'Prefix', span: { start: c.startAt(first) + 1, end: value.span.end }, op: '!', value };
      return { kind: 'Prefix', span: c.spanFrom(first), op: '!', value: inner };
    }
    return { kind: 'Prefix', span: c.spanFrom(first), op: op as '-' | '+' | '!' | '++' | '--', value };
  }
  if (atAnnotation(c)) {
    parseAnnotation(c);
    return parsePrefix(c);
  }
  if (c.kind === LABEL) {
    const label = c.ident().name;
    const body = parsePrefix(c);
    return { kind: 'Labelled', span: c.spanFrom(first), label, body };
  }
  return parsePostfix(c);
}
