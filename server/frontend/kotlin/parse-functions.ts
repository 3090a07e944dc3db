/** Functions, named and anonymous, their parameters, and secondary constructors. */
import type { Cursor } from './cursor.js';
import { END, IDENT, KEYWORD } from './lexer.js';
import { functionName } from './lookahead.js';
import { parseArguments } from './parse-calls.js';
import { parseExpression } from './parse-expressions.js';
import { parseModifiers } from './parse-modifiers.js';
import { parseThis } from './parse-primary.js';
import { parseBlock } from './parse-statements.js';
import { parseType, parseTypeParameters, skipWhere } from './parse-types.js';
import type { ConstructorDecl, ConstructorDelegation, FunctionBody, FunDecl, Ident, Modifiers, Parameter, Type } from './tree.js';

/** At `fun`; the declaration began at the token `first`. */
export function parseFunction(c: Cursor, first: number, modifiers: Modifiers): FunDecl {
  const keywordStart = c.startAt(c.at++);
  const typeParams = c.is('<') ? parseTypeParameters(c) : [];
  const ahead = functionName(c, c.at);
  const receiver = ahead.dot >= 0 ? parseReceiver(c, ahead.dot) : undefined;
  if (ahead.dot < 0 && ahead.name >= 0) c.at = ahead.name;
  const name: Ident | undefined = c.kind === IDENT ? c.ident() : undefined;
  const moreTypeParams = c.is('<') ? parseTypeParameters(c) : [];
  const params = parseParameters(c);
  let headEnd = c.endAt(c.at - 1);
  const result = c.eat(':') ? parseType(c) : undefined;
  if (result) headEnd = c.endAt(c.at - 1);
  skipWhere(c);
  const body = parseFunctionBody(c, first);
  return {
    kind: 'FunDecl', span: c.spanFrom(first), modifiers, keywordStart, headEnd, params,
    typeParams: [...typeParams, ...moreTypeParams],
    ...(name && { name }), ...(receiver && { receiver }), ...(result && { result }), ...(body && { body }),
  };
}

/** The type before the dot at the token `dot`, which is taken too. */
export function parseReceiver(c: Cursor, dot: number): Type {
  const before = c.receiverEnd;
  c.receiverEnd = dot;
  const type = parseType(c);
  c.receiverEnd = before;
  const nullable = c.isAt(dot, '?.') && (type.kind === 'NamedType' || type.kind === 'FunctionType');
  c.at = dot + 1;
  return nullable ? { ...type, nullable: true } : type;
}

/** `{ … }` or `= value` of the function that began at the token `fn`; undefined where there is neither. */
export function parseFunctionBody(c: Cursor, fn: number): FunctionBody | undefined {
  if (c.isSign('{')) return parseBlock(c, fn);
  if (!c.eat('=')) return undefined;
  const first = c.at;
  const value = parseExpression(c);
  return { kind: 'ExpressionBody', span: c.spanFrom(first), value };
}

/** `(a: A, vararg b: B = c)`, also of a primary constructor, a setter or a catch. */
export function parseParameters(c: Cursor): Parameter[] {
  if (!c.expect('(')) return [];
  return c.inBrackets(() => {
    const out: Parameter[] = [];
    while (!c.is(')')) {
      const before = c.at;
      const param = parseParameter(c);
      if (param) out.push(param);
      else if (c.is('}') || c.kind === KEYWORD) break;
      else {
        c.fault();
        if (c.kind === END) break;
        c.at++;
        continue;
      }
      if (c.at === before || !c.eat(',')) break;
    }
    c.expect(')');
    return out;
  });
}

function parseParameter(c: Cursor): Parameter | undefined {
  const first = c.at;
  const modifiers = parseModifiers(c, 'members');
  const property = c.is('val') ? 'val' : c.is('var') ? 'var' : undefined;
  if (property) c.at++;
  if (c.kind !== IDENT) return undefined;
  const { name, span: nameSpan } = c.ident();
  const type = c.eat(':') ? parseType(c) : undefined;
  const defaultValue = c.eat('=') ? parseExpression(c) : undefined;
  return {
    kind: 'Parameter', span: c.spanFrom(first), name, nameSpan, modifiers,
    ...(property && { property }), ...(type && { type }), ...(defaultValue && { defaultValue }),
  };
}

/** At the word `constructor` of a secondary constructor. */
export function parseConstructor(c: Cursor, first: number, modifiers: Modifiers): ConstructorDecl {
  const keywordSpan = c.ident().span;
  const params = parseParameters(c);
  const headEnd = c.endAt(c.at - 1);
  const delegation = c.eat(':') ? parseDelegation(c) : undefined;
  const body = c.isSign('{') ? parseBlock(c, first) : undefined;
  return {
    kind: 'ConstructorDecl', span: c.spanFrom(first), modifiers, keywordSpan, headEnd, params,
    ...(delegation && { delegation }), ...(body && { body }),
  };
}

function parseDelegation(c: Cursor): ConstructorDelegation | undefined {
  if (!c.is('this') && !c.is('super')) {
    c.fault();
    return undefined;
  }
  const first = c.at;
  const to = parseThis(c);
  const args = c.isSign('(') ? parseArguments(c) : [];
  return { kind: 'ConstructorDelegation', span: c.spanFrom(first), to, args };
}
