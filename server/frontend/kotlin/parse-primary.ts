/** Expressions that begin with their own token: names, literals, strings, brackets, and the keyword expressions. */
import { unquoted, type Cursor } from './cursor.js';
import { CHAR, HOLE_CLOSE, HOLE_NAME, HOLE_OPEN, IDENT, KEYWORD, NUMBER, QUOTE_CLOSE, QUOTE_OPEN, SIGN, TEXT } from './lexer.js';
import { parseBracketed } from './parse-calls.js';
import { parseObjectLiteral } from './parse-classes.js';
import { parseDo, parseFor, parseIf, parseTry, parseWhile } from './parse-control.js';
import { parseExpression, startsExpression } from './parse-expressions.js';
import { parseFunction } from './parse-functions.js';
import { parseLambda } from './parse-lambdas.js';
import { NO_MODIFIERS } from './parse-modifiers.js';
import { parseStatements } from './parse-statements.js';
import { parseTypeArguments } from './parse-types.js';
import { parseWhen } from './parse-when.js';
import { isExpression, type Expr, type TextPiece } from './tree.js';

export function parsePrimary(c: Cursor): Expr {
  const first = c.at;
  switch (c.kind) {
    case IDENT: {
      const { name } = c.ident();
      return { kind: 'Name', span: c.spanFrom(first), name };
    }
    case NUMBER:
    case CHAR: {
      const of = c.kind === NUMBER ? 'number' : 'char';
      c.at++;
      return { kind: 'Literal', span: c.spanFrom(first), of };
    }
    case QUOTE_OPEN: return parseString(c);
    case SIGN: {
      if (c.value === '(') return parenthesised(c);
      if (c.value === '{') return parseLambda(c);
      if (c.value !== '[') break;
      const items = parseBracketed(c);
      return { kind: 'Collection', span: c.spanFrom(first), items };
    }
    case KEYWORD: {
      const expr = keywordExpression(c);
      if (expr) return expr;
    }
  }
  c.fault();
  return { kind: 'Broken', span: c.emptySpan(), children: [] };
}

function parenthesised(c: Cursor): Expr {
  const first = c.at++;
  const value = c.inBrackets(() => {
    const inner = parseExpression(c);
    c.expect(')');
    return inner;
  });
  return { kind: 'Paren', span: c.spanFrom(first), value };
}

function keywordExpression(c: Cursor): Expr | undefined {
  const first = c.at;
  switch (c.value) {
    case 'true': case 'false': case 'null':
      c.at++;
      return { kind: 'Literal', span: c.spanFrom(first), of: 'word' };
    case 'this': case 'super': return parseThis(c);
    case 'if': return parseIf(c);
    case 'when': return parseWhen(c);
    case 'try': return parseTry(c);
    case 'for': return parseFor(c);
    case 'while': return parseWhile(c);
    case 'do': return parseDo(c);
    case 'return': {
      const label = takeLabelled(c);
      const value = !c.atNewline() && startsExpression(c) ? parseExpression(c) : undefined;
      return { kind: 'Return', span: c.spanFrom(first), ...label, ...(value && { value }) };
    }
    case 'throw': {
      c.at++;
      const value = startsExpression(c) ? parseExpression(c) : broken(c);
      return { kind: 'Throw', span: c.spanFrom(first), value };
    }
    case 'break': case 'continue': {
      const to = c.value;
      const label = takeLabelled(c);
      return { kind: 'Jump', span: c.spanFrom(first), to, ...label };
    }
    case 'object': return parseObjectLiteral(c);
    case 'fun': return parseFunction(c, first, NO_MODIFIERS);
    default: return undefined;
  }
}

function broken(c: Cursor): Expr {
  c.fault();
  return { kind: 'Broken', span: c.emptySpan(), children: [] };
}

/** Takes a keyword token and reads the label that it carries. */
function takeLabelled(c: Cursor): { label?: string } {
  const word = c.textAt(c.at++);
  const mark = word.indexOf('@');
  return mark < 0 ? {} : { label: unquoted(word.slice(mark + 1)) };
}

/** `this`, `this@Outer`, `super<Base>@Outer`. */
export function parseThis(c: Cursor): Expr & { kind: 'This' } {
  const first = c.at;
  const of = c.value === 'super' ? 'super' : 'this';
  let label = takeLabelled(c);
  if (of === 'super' && c.is('<')) {
    parseTypeArguments(c);
    if (c.is('@') && c.kindAt(c.at + 1) === IDENT) {
      c.at++;
      label = { label: c.ident().name };
    }
  }
  return { kind: 'This', span: c.spanFrom(first), of, ...label };
}

function parseString(c: Cursor): Expr {
  const first = c.at;
  const raw = c.value === '"""';
  c.at++;
  const parts: (TextPiece | Expr)[] = [];
  for (;;) {
    const at = c.at;
    if (c.kind === TEXT) {
      c.at++;
      parts.push({ kind: 'TextPiece', span: c.spanFrom(at) });
    } else if (c.kind === HOLE_NAME) {
      parts.push(namedHole(c));
    } else if (c.kind === HOLE_OPEN) {
      parts.push(hole(c));
    } else {
      break;
    }
  }
  if (c.kind === QUOTE_CLOSE) {
    if (c.startAt(c.at) === c.endAt(c.at)) c.fault(first);
    c.at++;
  } else {
    c.fault(first);
  }
  return { kind: 'Text', span: c.spanFrom(first), raw, parts };
}

/** `$name`: the span is that of the name alone. */
function namedHole(c: Cursor): Expr {
  const end = c.endAt(c.at);
  const { name } = c.ident();
  const written = c.tokens.values[c.at - 1]!;
  const span = { start: end - written.length, end };
  return name === 'this' ? { kind: 'This', span, of: 'this' } : { kind: 'Name', span, name };
}

function hole(c: Cursor): Expr {
  const opener = c.at++;
  const inside = c.at;
  const stmts = c.inBraces(() => parseStatements(c));
  const span = c.at === inside ? c.emptySpan() : c.spanFrom(inside);
  if (c.kind === HOLE_CLOSE) c.at++;
  else c.fault(opener);
  const exprs = stmts.filter(isExpression);
  return exprs.length === 1 && stmts.length === 1 ? exprs[0]! : { kind: 'Broken', span, children: exprs };
}
