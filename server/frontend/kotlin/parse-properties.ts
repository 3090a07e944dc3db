/** Properties and local variables, with their accessors. */
import type { Cursor } from './cursor.js';
import { END, IDENT, KEYWORD } from './lexer.js';
import { afterPrefixes, destructuringAhead, functionName } from './lookahead.js';
import { parseExpression } from './parse-expressions.js';
import { parseFunctionBody, parseParameters, parseReceiver } from './parse-functions.js';
import { parseDestructuring } from './parse-lambdas.js';
import { atAnnotation, parseAnnotation, parseModifiers } from './parse-modifiers.js';
import { parseType, parseTypeParameters, skipWhere } from './parse-types.js';
import type { Accessor, Destructuring, Expr, Ident, Modifiers, PropertyDecl, Type } from './tree.js';

/** At `val` or `var`; the declaration began at the token `first`. Local variables have no accessors. */
export function parseProperty(c: Cursor, first: number, modifiers: Modifiers, where: 'local' | 'member'): PropertyDecl {
  const mutable = c.value === 'var';
  c.at++;
  if (c.is('<')) parseTypeParameters(c);
  const { target, receiver } = propertyTarget(c);
  const type = c.eat(':') ? parseType(c) : undefined;
  skipWhere(c);
  let delegated = false;
  let value: Expr | undefined;
  if (c.eat('=')) {
    value = parseExpression(c);
  } else if (c.isWord('by')) {
    delegated = true;
    c.at++;
    value = parseExpression(c);
  }
  const rest = where === 'member' ? parseAccessors(c) : { accessors: [] };
  value ??= rest.backing;
  return {
    kind: 'PropertyDecl', span: c.spanFrom(first), mutable, modifiers, target, delegated, accessors: rest.accessors,
    ...(receiver && { receiver }), ...(type && { type }), ...(value && { value }),
  };
}

function propertyTarget(c: Cursor): { target: Ident | Destructuring; receiver?: Type } {
  if ((c.isSign('(') || c.isSign('[')) && destructuringAhead(c)) return { target: parseDestructuring(c) };
  const { name, dot } = functionName(c, c.at);
  const receiver = dot >= 0 && name > dot ? parseReceiver(c, dot) : undefined;
  while (atAnnotation(c)) parseAnnotation(c);
  return { target: c.expectIdent(), ...(receiver && { receiver }) };
}

/** `get() = …`, `private set`, and the explicit backing field `field = …`. */
function parseAccessors(c: Cursor): { accessors: Accessor[]; backing?: Expr } {
  const accessors: Accessor[] = [];
  let backing: Expr | undefined;
  for (;;) {
    const first = c.is(';') ? c.at + 1 : c.at;
    const word = afterPrefixes(c, first);
    if (isAccessorAt(c, word, word > first)) {
      c.at = first;
      accessors.push(parseAccessor(c));
    } else if (c.kindAt(word) === IDENT && c.valueAt(word) === 'field' && (c.isAt(word + 1, '=') || c.isAt(word + 1, ':'))) {
      c.at = word + 1;
      if (c.eat(':')) parseType(c);
      if (c.eat('=')) backing = parseExpression(c);
    } else {
      return { accessors, ...(backing && { backing }) };
    }
  }
}

function isAccessorAt(c: Cursor, index: number, hasModifiers: boolean): boolean {
  if (c.kindAt(index) !== IDENT || (c.valueAt(index) !== 'get' && c.valueAt(index) !== 'set')) return false;
  const next = index + 1;
  if (hasModifiers || c.isNewlineAt(next)) return true;
  return c.isAt(next, '(') || c.isAt(next, ';') || c.isAt(next, '}') || c.isAt(next, '@')
    || c.kindAt(next) === END || c.kindAt(next) === KEYWORD || c.kindAt(next) === IDENT;
}

function parseAccessor(c: Cursor): Accessor {
  const first = c.at;
  const modifiers = parseModifiers(c, 'members');
  const which = c.value === 'get' ? 'get' : 'set';
  const nameSpan = c.ident().span;
  const hasList = c.isSign('(') && !c.isNewlineAt(c.at);
  const params = hasList ? parseParameters(c) : [];
  const result = hasList && c.eat(':') ? parseType(c) : undefined;
  const headEnd = c.endAt(c.at - 1);
  const body = hasList ? parseFunctionBody(c, first) : undefined;
  return {
    kind: 'Accessor', span: c.spanFrom(first), which, nameSpan, modifiers, params, headEnd,
    ...(result && { result }), ...(body && { body }),
  };
}
