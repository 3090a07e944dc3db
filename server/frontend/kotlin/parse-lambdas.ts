/** Lambdas, and the patterns that take a value apart. */
import type { Cursor } from './cursor.js';
import { IDENT } from './lexer.js';
import { lambdaParametersAhead } from './lookahead.js';
import { parseExpression } from './parse-expressions.js';
import { atAnnotation, parseAnnotation } from './parse-modifiers.js';
import { parseStatements } from './parse-statements.js';
import { parseType } from './parse-types.js';
import type { DestructuredName, Destructuring, Lambda, LambdaParam } from './tree.js';

export function parseLambda(c: Cursor, label?: string): Lambda {
  const first = c.at;
  const opener = c.at;
  c.expect('{');
  return c.inBraces(() => {
    const params = lambdaParametersAhead(c, c.at) ? lambdaParams(c) : undefined;
    const start = c.endAt(c.at - 1);
    const stmts = parseStatements(c);
    const end = c.is('}') ? c.startAt(c.at) : c.spanFrom(first).end;
    if (!c.eat('}')) c.fault(opener);
    return {
      kind: 'Lambda', span: c.spanFrom(first), body: { kind: 'Block', span: { start, end }, stmts },
      ...(label !== undefined && { label }), ...(params && { params }),
    };
  });
}

function lambdaParams(c: Cursor): LambdaParam[] {
  const out: LambdaParam[] = [];
  while (!c.is('->')) {
    const first = c.at;
    while (atAnnotation(c)) parseAnnotation(c);
    const takesApart = c.isSign('(') || c.isSign('[');
    if (!takesApart && c.kind !== IDENT) break;
    const target = takesApart ? parseDestructuring(c) : c.ident();
    const type = c.eat(':') ? parseType(c) : undefined;
    out.push({ span: c.spanFrom(first), target, ...(type && { type }) });
    if (!c.eat(',')) break;
  }
  c.expect('->');
  return out;
}

/** `(a, b: B)`, `(val a, val b = property)`, `[a, b]` */
export function parseDestructuring(c: Cursor): Destructuring {
  const first = c.at;
  const close = c.is('[') ? ']' : ')';
  c.at++;
  const names = c.inBrackets(() => {
    const out: DestructuredName[] = [];
    while (!c.is(close)) {
      while (atAnnotation(c)) parseAnnotation(c);
      const byName = c.eat('val') || c.eat('var');
      if (c.kind !== IDENT) {
        c.fault();
        break;
      }
      out.push(destructuredName(c, byName));
      if (!c.eat(',')) break;
    }
    c.expect(close);
    return out;
  });
  return { kind: 'Destructuring', span: c.spanFrom(first), names };
}

function destructuredName(c: Cursor, byName: boolean): DestructuredName {
  const { name, span } = c.ident();
  const type = c.eat(':') ? parseType(c) : undefined;
  let property = byName ? name : undefined;
  if (c.eat('=')) {
    const value = parseExpression(c);
    property = value.kind === 'Name' ? value.name : name;
  }
  return { name, span, ...(type && { type }), ...(property !== undefined && { property }) };
}

