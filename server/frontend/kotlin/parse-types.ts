/** Types: names with arguments, function types, nullability, intersections, type parameters. */
import type { Cursor } from './cursor.js';
import { END, IDENT, KEYWORD, LABEL } from './lexer.js';
import { atAnnotation, parseAnnotation } from './parse-modifiers.js';
import type { FunctionType, NamedType, Type } from './tree.js';

export function parseType(c: Cursor): Type {
  return c.deeper(() => type(c), () => brokenType(c));
}

function brokenType(c: Cursor): Type {
  return { kind: 'BrokenType', span: c.emptySpan() };
}

function type(c: Cursor): Type {
  const first = c.at;
  const suspend = skipTypePrefix(c);
  let result = typeCore(c);
  if (suspend && result.kind === 'FunctionType') result = { ...result, suspend };
  for (;;) {
    if (c.at === c.receiverEnd) break;
    if (c.is('?')) {
      c.at++;
      result = asNullable(result);
    } else if ((c.is('.') || c.is('?.')) && c.isAt(c.at + 1, '(')) {
      const receiver: Type = { ...(c.is('?.') ? asNullable(result) : result), span: c.spanFrom(first) };
      c.at++;
      const fn = bracketedType(c);
      result = fn.kind === 'FunctionType' ? { ...fn, receiver, suspend } : fn;
    } else if (c.is('&')) {
      c.at++;
      const other = parseType(c);
      result = { kind: 'IntersectionType', span: c.spanFrom(first), members: [result, other] };
    } else {
      break;
    }
  }
  return { ...result, span: c.spanFrom(first) };
}

/** Steps over annotations, a context clause and `suspend`; tells whether the latter was there. */
function skipTypePrefix(c: Cursor): boolean {
  let suspend = false;
  for (;;) {
    if (atAnnotation(c)) {
      parseAnnotation(c);
    } else if (c.isWord('suspend') && (c.isAt(c.at + 1, '(') || c.kindAt(c.at + 1) === IDENT)) {
      suspend = true;
      c.at++;
    } else if (c.isWord('context') && c.isAt(c.at + 1, '(')) {
      c.at = c.afterBracket(c.at + 1);
    } else {
      return suspend;
    }
  }
}

function typeCore(c: Cursor): Type {
  if (c.is('(')) return bracketedType(c);
  if (c.kind === IDENT) return parseNamedType(c);
  if (c.is('*')) {
    c.at++;
    return { kind: 'StarType', span: c.spanFrom(c.at - 1) };
  }
  c.fault();
  return brokenType(c);
}

function asNullable(of: Type): Type {
  return of.kind === 'NamedType' || of.kind === 'FunctionType' ? { ...of, nullable: true } : of;
}

/** `(A, b: B) -> C`, or a type in parentheses. */
function bracketedType(c: Cursor): Type {
  const first = c.at;
  c.expect('(');
  const params = c.inBrackets(() => {
    const out: Type[] = [];
    while (!c.is(')')) {
      const before = c.at;
      if (c.kind === IDENT && c.isAt(c.at + 1, ':')) c.at += 2;
      out.push(parseType(c));
      if (c.at === before || !c.eat(',')) break;
    }
    c.expect(')');
    return out;
  });
  if (c.is('->')) {
    c.at++;
    const result = parseType(c);
    const fn: FunctionType = { kind: 'FunctionType', span: c.spanFrom(first), params, result, suspend: false, nullable: false };
    return fn;
  }
  const inner = params[0];
  return inner ? { ...inner, span: c.spanFrom(first) } : { kind: 'BrokenType', span: c.spanFrom(first) };
}

/** `Outer.Inner<A, B>`, without nullability. */
export function parseNamedType(c: Cursor): NamedType {
  const first = c.at;
  const names: string[] = [];
  let args: readonly Type[] = [];
  for (;;) {
    if (c.kind !== IDENT) {
      c.fault();
      break;
    }
    names.push(c.ident().name);
    if (c.is('<') && !c.atNewline()) args = parseTypeArguments(c);
    if (!(c.is('.') && c.kindAt(c.at + 1) === IDENT && c.at !== c.receiverEnd)) break;
    c.at++;
  }
  return { kind: 'NamedType', span: c.spanFrom(first), name: names.join('.'), args, nullable: false };
}

/** `<in A, out B, *>` */
export function parseTypeArguments(c: Cursor): readonly Type[] {
  const opener = c.at;
  const faults = c.faultCount;
  c.expect('<');
  return c.inBrackets(() => {
    const out: Type[] = [];
    while (!c.is('>')) {
      const first = c.at;
      if (c.is('in') || (c.isWord('out') && c.kindAt(c.at + 1) === IDENT)) c.at++;
      out.push(parseType(c));
      if (c.at === first || !c.eat(',')) break;
    }
    c.expect('>');
    if (c.faultCount > faults) c.notTypeArguments.add(opener * 2).add(opener * 2 + 1);
    return out;
  });
}

/** Type arguments of a call, where `<` could as well be a comparison: undefined, and nothing taken, if it is one. */
export function tryTypeArguments(c: Cursor): readonly Type[] | undefined {
  const first = c.at;
  const tried = first * 2 + (c.newlinesMatter ? 1 : 0);
  if (c.notTypeArguments.has(tried)) return undefined;
  const mark = c.mark();
  const args = parseTypeArguments(c);
  if (c.faultCount === mark.faults && mayFollowTypeArguments(c)) return args;
  c.notTypeArguments.add(tried);
  c.rewind(mark);
  return undefined;
}

const AFTER_TYPE_ARGUMENTS = new Set(['(', '{', '.', '?.', '::', ')', ']', ',', ';', ':', '}', '!!', '==', '!=', '->', '=', '?:', 'as?']);

function mayFollowTypeArguments(c: Cursor): boolean {
  const value = c.value;
  if (c.kind === END || c.kind === LABEL || c.atNewline()) return true;
  return c.kind !== KEYWORD && (AFTER_TYPE_ARGUMENTS.has(value) || (value === '?' && c.isAt(c.at + 1, '::')));
}

/** `<T : Bound, reified U>`: the names. */
export function parseTypeParameters(c: Cursor): readonly string[] {
  c.expect('<');
  return c.inBrackets(() => {
    const names: string[] = [];
    while (!c.is('>')) {
      const first = c.at;
      while (atAnnotation(c)) parseAnnotation(c);
      while (c.is('in') || (c.isModifierAt(c.at) && c.kindAt(c.at + 1) === IDENT)) c.at++;
      if (c.kind === IDENT) names.push(c.ident().name);
      if (c.eat(':')) parseType(c);
      if (c.at === first || !c.eat(',')) break;
    }
    c.expect('>');
    return names;
  });
}

/** `where T : A, U : B`, of which the model needs nothing. */
export function skipWhere(c: Cursor): void {
  if (!c.isWord('where') || !(c.kindAt(c.at + 1) === IDENT || c.isAt(c.at + 1, '@'))) return;
  c.at++;
  do {
    while (atAnnotation(c)) parseAnnotation(c);
    if (c.kind === IDENT) c.at++;
    if (!c.expect(':')) return;
    parseType(c);
  } while (c.eat(','));
}
