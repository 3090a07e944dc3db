/** Blocks and what stands in them. */
import type { Cursor } from './cursor.js';
import { LABEL, SIGN } from './lexer.js';
import { declarationAhead } from './lookahead.js';
import { parseDeclaration } from './parse-declarations.js';
import { parseExpression } from './parse-expressions.js';
import { parseFunction } from './parse-functions.js';
import { parseDestructuring } from './parse-lambdas.js';
import { atAnnotation, NO_MODIFIERS, parseAnnotation, parseModifiers } from './parse-modifiers.js';
import { parseProperty } from './parse-properties.js';
import { endsBlock, isStrayBrace, leavesFunction, skipRestOfLine } from './recovery.js';
import type { Block, Stmt } from './tree.js';

/** `{ … }`; `fn` is the first token of the function whose body this is, if it is one. */
export function parseBlock(c: Cursor, fn?: number): Block {
  const first = c.at;
  if (!c.expect('{')) return { kind: 'Block', span: c.emptySpan(), stmts: [] };
  return c.inBraces(() => {
    if (fn !== undefined) c.functions.push(fn);
    const stmts = parseStatements(c);
    while (fn !== undefined && isStrayBrace(c, fn)) {
      c.fault();
      c.at++;
      stmts.push(...parseStatements(c));
    }
    if (leavesFunction(c) || !c.eat('}')) c.fault(first);
    if (fn !== undefined) c.functions.pop();
    return { kind: 'Block', span: c.spanFrom(first), stmts };
  });
}

/** Statements up to the end of the block, which is not taken. */
export function parseStatements(c: Cursor): Stmt[] {
  const out: Stmt[] = [];
  while (!endsBlock(c)) {
    if (c.eat(';')) continue;
    if (leavesFunction(c)) break;
    const first = c.at;
    const faults = c.faultCount;
    const stmt = parseStatement(c);
    if (c.at === first) {
      c.fault();
      c.at++;
    } else {
      out.push(stmt);
      if (!c.isNewlineAt(c.at) && !c.is(';') && !endsBlock(c)) {
        c.fault();
        skipRestOfLine(c);
      }
    }
    c.settleFaults(faults, first);
  }
  return out;
}

const ASSIGNMENTS = new Map([['=', ''], ['+=', '+'], ['-=', '-'], ['*=', '*'], ['/=', '/'], ['%=', '%']]);

export function parseStatement(c: Cursor): Stmt {
  const first = c.at;
  if (declarationAhead(c)) return c.deeper<Stmt>(() => localDeclaration(c), () => missing(c));
  if (c.isSign('(') && (c.isAt(c.at + 1, 'val') || c.isAt(c.at + 1, 'var'))) return namedDestructuring(c);
  while (atAnnotation(c)) parseAnnotation(c);
  if (c.kind === LABEL) {
    const label = c.ident().name;
    const body = c.deeper<Stmt>(() => parseStatement(c), () => missing(c));
    return { kind: 'Labelled', span: c.spanFrom(first), label, body };
  }
  const target = parseExpression(c);
  const op = c.kind === SIGN && !c.atNewline() ? ASSIGNMENTS.get(c.value) : undefined;
  if (op === undefined) return target;
  c.at++;
  const value = parseExpression(c);
  return { kind: 'Assignment', span: c.spanFrom(first), target, value, ...(op !== '' && { op }) };
}

function missing(c: Cursor): Stmt {
  return { kind: 'Broken', span: c.emptySpan(), children: [] };
}

function localDeclaration(c: Cursor): Stmt {
  const first = c.at;
  const modifiers = parseModifiers(c, 'statements');
  if (c.is('val') || c.is('var')) return parseProperty(c, first, modifiers, 'local');
  if (c.is('fun') && !c.isAt(c.at + 1, 'interface')) return parseFunction(c, first, modifiers);
  return parseDeclaration(c, first, modifiers) ?? { kind: 'Broken', span: c.spanFrom(first), children: [] };
}

/** `(val a, val b = name) = value` */
function namedDestructuring(c: Cursor): Stmt {
  const first = c.at;
  const target = parseDestructuring(c);
  const value = c.expect('=') ? parseExpression(c) : undefined;
  return {
    kind: 'PropertyDecl', span: c.spanFrom(first), mutable: false, modifiers: NO_MODIFIERS, target, delegated: false,
    accessors: [], ...(value && { value }),
  };
}
