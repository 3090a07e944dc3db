/** `when`, with and without subject, with conditions, ranges, type tests and guards. */
import type { Cursor } from './cursor.js';
import { declarationAhead } from './lookahead.js';
import { parseBody } from './parse-control.js';
import { parseExpression } from './parse-expressions.js';
import { parseModifiers } from './parse-modifiers.js';
import { parseType } from './parse-types.js';
import { endsBlock, leavesFunction } from './recovery.js';
import type { Expr, When, WhenEntry, WhenTest } from './tree.js';

export function parseWhen(c: Cursor): When {
  const first = c.at++;
  const head = c.is('(') ? subject(c) : {};
  const entries: WhenEntry[] = [];
  const opener = c.at;
  if (c.expect('{')) {
    c.inBraces(() => {
      while (!endsBlock(c) && !leavesFunction(c)) {
        if (c.eat(';')) continue;
        entries.push(parseEntry(c));
      }
      if (!c.eat('}')) c.fault(opener);
    });
  }
  return { kind: 'When', span: c.spanFrom(first), ...head, entries };
}

/** `(value)` or `(val name: T = value)` */
function subject(c: Cursor): Pick<When, 'subject' | 'subjectName'> {
  c.at++;
  return c.inBrackets(() => {
    let subjectName: string | undefined;
    if (declarationAhead(c)) {
      parseModifiers(c, 'statements');
      c.at++;
      subjectName = c.expectIdent().name;
      if (c.eat(':')) parseType(c);
      c.expect('=');
    }
    const value = parseExpression(c);
    c.expect(')');
    return { subject: value, ...(subjectName !== undefined && { subjectName }) };
  });
}

function parseEntry(c: Cursor): WhenEntry {
  const first = c.at;
  const faults = c.faultCount;
  const otherwise = c.eat('else');
  const tests = otherwise ? [] : parseTests(c);
  const guard: Expr | undefined = c.eat('if') ? parseExpression(c) : undefined;
  if (!c.eat('->')) return brokenEntry(c, first, faults, tests);
  const body = parseBody(c);
  return { span: c.spanFrom(first), otherwise, tests, body, ...(guard && { guard }) };
}

/** A line without arrow inside `when`, most likely a statement left behind by an edit: what was read of it is kept. */
function brokenEntry(c: Cursor, first: number, faults: number, tests: readonly WhenTest[]): WhenEntry {
  c.fault();
  if (c.at === first || (!c.isNewlineAt(c.at) && !c.is('}'))) c.at++;
  const span = c.spanFrom(first);
  c.settleFaults(faults, first);
  return { span, otherwise: false, tests, body: { kind: 'Block', span: { start: span.end, end: span.end }, stmts: [] } };
}

function parseTests(c: Cursor): WhenTest[] {
  const out: WhenTest[] = [];
  while (!c.is('->') && !(out.length > 0 && c.is('if'))) {
    const first = c.at;
    out.push(parseTest(c));
    if (c.at === first || !c.eat(',')) break;
  }
  return out;
}

function parseTest(c: Cursor): WhenTest {
  if (c.is('in') || c.is('!in')) {
    const not = c.value === '!in';
    c.at++;
    return { of: 'in', value: parseExpression(c), not };
  }
  if (c.is('is') || c.is('!is')) {
    const not = c.value === '!is';
    c.at++;
    return { of: 'is', type: parseType(c), not };
  }
  return { of: 'value', value: parseExpression(c) };
}
