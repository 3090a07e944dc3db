/** What follows an expression: member access, calls with their arguments and trailing lambdas, indexing, `!!`, `++`. */
import { unquoted, type Cursor } from './cursor.js';
import { IDENT, LABEL, SIGN } from './lexer.js';
import { parseExpression } from './parse-expressions.js';
import { parseLambda } from './parse-lambdas.js';
import { atAnnotation, parseAnnotation } from './parse-modifiers.js';
import { parsePrimary } from './parse-primary.js';
import { tryTypeArguments } from './parse-types.js';
import { endsArguments } from './recovery.js';
import type { Argument, Expr, Ident } from './tree.js';

/** A primary expression with all its suffixes. */
export function parsePostfix(c: Cursor): Expr {
  const first = c.at;
  let expr: Expr = c.isSign('::') ? reference(c, first, undefined) : parsePrimary(c);
  for (;;) {
    const longer = suffix(c, first, expr);
    if (longer === undefined) return expr;
    expr = longer;
  }
}

/** One suffix after `expr`, which began at the token `first`; undefined if there is none. */
function suffix(c: Cursor, first: number, expr: Expr): Expr | undefined {
  if (c.kind !== SIGN && c.kind !== LABEL) return undefined;
  if (c.kind === SIGN) {
    if (c.value === '.' || c.value === '?.') return navigation(c, first, expr);
    if (c.atNewline()) return undefined;
    if (c.value === '::') return reference(c, first, expr);
    if (c.value === '?' && c.isAt(c.at + 1, '::')) {
      c.at++;
      return reference(c, first, expr);
    }
    if (c.value === '!!' || c.value === '++' || c.value === '--') {
      const op = c.value;
      c.at++;
      return { kind: 'Postfix', span: c.spanFrom(first), op, value: expr };
    }
    if (c.value === '[') {
      const indices = parseBracketed(c);
      return { kind: 'Index', span: c.spanFrom(first), object: expr, indices };
    }
  }
  return call(c, first, expr);
}

function navigation(c: Cursor, first: number, object: Expr): Expr {
  const safe = c.value === '?.';
  c.at++;
  if (c.kind === IDENT || c.isKeyword('class')) {
    const name = c.ident();
    return { kind: 'Navigation', span: c.spanFrom(first), object, name, safe };
  }
  if (c.isSign('(')) {
    const inner = c.inBrackets(() => {
      c.at++;
      const value = parseExpression(c);
      c.expect(')');
      return value;
    });
    return { kind: 'Broken', span: c.spanFrom(first), children: [object, inner] };
  }
  // `gatt.` as it is being typed: the receiver is known, the name is not.
  const end = c.endAt(c.at - 1);
  c.fault(c.at - 1);
  const name: Ident = { name: '', span: { start: end, end } };
  return { kind: 'Navigation', span: c.spanFrom(first), object, name, safe };
}

function reference(c: Cursor, first: number, object: Expr | undefined): Expr {
  c.at++;
  if (object && c.isKeyword('class')) {
    const name = c.ident();
    return { kind: 'Navigation', span: c.spanFrom(first), object, name, safe: false };
  }
  const name = c.expectIdent();
  return { kind: 'Reference', span: c.spanFrom(first), name: name.name, ...(object && { object }) };
}

/** A call suffix: type arguments, arguments, trailing lambdas, at least one of them. */
function call(c: Cursor, first: number, callee: Expr): Expr | undefined {
  if (c.atNewline()) return undefined;
  const typeArgs = c.is('<') ? tryTypeArguments(c) : undefined;
  if (c.is('<') && !typeArgs) return undefined;
  const args: Argument[] = [];
  let called = false;
  if (c.isSign('(') && !c.atNewline()) {
    args.push(...parseArguments(c));
    called = true;
  }
  for (let lambda = trailingLambda(c); lambda; lambda = trailingLambda(c)) {
    args.push(lambda);
    called = true;
  }
  if (!called && !typeArgs) return undefined;
  return { kind: 'Call', span: c.spanFrom(first), callee, typeArgs: typeArgs ?? [], ...(called && { args }) };
}

/** Behind arguments or another lambda it may stand on a new line. */
function trailingLambda(c: Cursor): Argument | undefined {
  if (!c.lambdasAllowed) return undefined;
  let label: string | undefined;
  if (c.kind === LABEL && c.isAt(c.at + 1, '{')) label = c.ident().name;
  else if (atAnnotation(c) && c.isAt(c.at + 2, '{')) parseAnnotation(c);
  if (!c.isSign('{')) return undefined;
  return { value: parseLambda(c, label), spread: false, trailing: true };
}

/** `(a, name = b, *c)` */
export function parseArguments(c: Cursor): Argument[] {
  c.expect('(');
  return c.inBrackets(() => {
    const out: Argument[] = [];
    while (!c.is(')') && !endsArguments(c)) {
      const first = c.at;
      const name = c.kind === IDENT && c.isAt(c.at + 1, '=') ? c.value : undefined;
      if (name !== undefined) c.at += 2;
      const spread = c.eat('*');
      const value = parseExpression(c);
      if (c.at === first) break;
      out.push({ value, spread, trailing: false, ...(name !== undefined && { name: unquoted(name) }) });
      if (!c.eat(',')) break;
    }
    c.expect(')');
    return out;
  });
}

/** `[a, b]`: the indices of an access, or the items of a collection literal. */
export function parseBracketed(c: Cursor): Expr[] {
  c.expect('[');
  return c.inBrackets(() => {
    const out: Expr[] = [];
    while (!c.is(']') && !endsArguments(c)) {
      const first = c.at;
      out.push(parseExpression(c));
      if (c.at === first || !c.eat(',')) break;
    }
    c.expect(']');
    return out;
  });
}
