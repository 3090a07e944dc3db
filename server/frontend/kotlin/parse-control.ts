/** `if`, loops and `try`; all of them are expressions to the grammar. */
import type { Cursor } from './cursor.js';
import { IDENT } from './lexer.js';
import { lambdaParametersAhead } from './lookahead.js';
import { parseExpression } from './parse-expressions.js';
import { parseParameters } from './parse-functions.js';
import { parseDestructuring, parseLambda } from './parse-lambdas.js';
import { parseModifiers } from './parse-modifiers.js';
import { parseBlock, parseStatement } from './parse-statements.js';
import { parseType } from './parse-types.js';
import type { Block, Body, Catch, Expr, For, Ident, Destructuring, If, IfArm, Try, While } from './tree.js';

/** What follows a condition, `else`, a loop's head or `->`: a block or one statement. */
export function parseBody(c: Cursor): Body {
  if (c.is(';')) return emptyBody(c);
  if (c.isSign('{')) return lambdaParametersAhead(c, c.at + 1) ? parseLambda(c) : parseBlock(c);
  return c.inMode(true, c.lambdasAllowed, () => parseStatement(c));
}

function emptyBody(c: Cursor): Block {
  return { kind: 'Block', span: c.emptySpan(), stmts: [] };
}

function condition(c: Cursor): Expr {
  if (!c.expect('(')) return { kind: 'Broken', span: c.emptySpan(), children: [] };
  return c.inBrackets(() => {
    const test = parseExpression(c);
    c.expect(')');
    return test;
  });
}

export function parseIf(c: Cursor): If {
  const first = c.at;
  const arms: IfArm[] = [];
  for (;;) {
    const armFirst = c.at++;
    const test = condition(c);
    const body = c.isKeyword('else') ? emptyBody(c) : parseBody(c);
    arms.push({ span: c.spanFrom(armFirst), test, body });
    const beforeElse = c.at;
    c.eat(';');
    // The `else ->` of a surrounding `when` is not ours.
    if (!c.isKeyword('else') || c.isAt(c.at + 1, '->')) {
      c.at = beforeElse;
      return { kind: 'If', span: c.spanFrom(first), arms };
    }
    const elseFirst = c.at++;
    if (c.isKeyword('if')) continue;
    const otherwise = parseBody(c);
    return { kind: 'If', span: c.spanFrom(first), arms, otherwise: { span: c.spanFrom(elseFirst), body: otherwise } };
  }
}

export function parseTry(c: Cursor): Try {
  const first = c.at++;
  const body = parseBlock(c);
  const catches: Catch[] = [];
  let last: Block | undefined;
  for (;;) {
    if (c.isWord('catch') && c.isAt(c.at + 1, '(')) catches.push(parseCatch(c));
    else if (c.isWord('finally') && c.isAt(c.at + 1, '{')) {
      c.at++;
      last = parseBlock(c);
    } else {
      return { kind: 'Try', span: c.spanFrom(first), body, catches, ...(last && { last }) };
    }
  }
}

function parseCatch(c: Cursor): Catch {
  const first = c.at++;
  const param = parseParameters(c)[0];
  const body = parseBlock(c);
  return { span: c.spanFrom(first), body, ...(param && { param }) };
}

export function parseFor(c: Cursor): For {
  const first = c.at++;
  const head = c.expect('(') ? c.inBrackets(() => loopHead(c)) : { source: missing(c) };
  const body = parseBody(c);
  return { kind: 'For', span: c.spanFrom(first), ...head, body };
}

function loopHead(c: Cursor): Pick<For, 'target' | 'type' | 'source'> {
  parseModifiers(c, 'statements');
  if (c.is('val') || c.is('var')) c.at++;
  let target: Ident | Destructuring | undefined;
  if (c.isSign('(') || c.isSign('[')) target = parseDestructuring(c);
  else if (c.kind === IDENT) target = c.ident();
  else c.fault();
  const type = c.eat(':') ? parseType(c) : undefined;
  const source = c.expect('in') ? parseExpression(c) : missing(c);
  c.expect(')');
  return { source, ...(target && { target }), ...(type && { type }) };
}

function missing(c: Cursor): Expr {
  return { kind: 'Broken', span: c.emptySpan(), children: [] };
}

export function parseWhile(c: Cursor): While {
  const first = c.at++;
  const test = condition(c);
  const body = parseBody(c);
  return { kind: 'While', span: c.spanFrom(first), test, testFirst: true, body };
}

export function parseDo(c: Cursor): While {
  const first = c.at++;
  const body = c.isKeyword('while') ? emptyBody(c) : parseBody(c);
  c.eat(';');
  const test = c.expect('while') ? condition(c) : missing(c);
  return { kind: 'While', span: c.spanFrom(first), test, testFirst: false, body };
}
