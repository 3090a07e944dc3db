/** Expressions, where their value is wanted. */
import {
  MADE, type Argument, type Assign, type BinaryOp, type Expr, type Literal, type Span, type Template,
} from '../../ir/ir.js';
import { charValue, numberValue, unescaped } from './literals.js';
import { lowerClass } from './lower-classes.js';
import { lowerBranch, lowerTry, lowerWhen } from './lower-control.js';
import { lowerAnonymousFunction, lowerLambda } from './lower-functions.js';
import { lowerJump, lowerReturn, lowerThrow } from './lower-statements.js';
import { lowerType } from './lower-types.js';
import { unknown, type Lowering } from './lowering.js';
import { isExpression } from './tree.js';
import type * as tree from './tree.js';

export function lowerExpr(l: Lowering, expr: tree.Expr): Expr {
  return l.deeper<Expr>(expr.span, () => lower(l, expr), (given) => given);
}

function lower(l: Lowering, expr: tree.Expr): Expr {
  const { span } = expr;
  switch (expr.kind) {
    case 'Name':
      if (expr.name === 'it') l.itMentions++;
      return { kind: 'Name', span, name: expr.name };
    case 'Literal': return lowerLiteral(l, expr);
    case 'Text': return lowerText(l, expr);
    case 'This': return { kind: 'This', span, of: expr.of, ...(expr.label !== undefined && { label: expr.label }) };
    case 'Paren': return lower(l, expr.value);
    case 'Call': return lowerCall(l, expr);
    case 'Infix': return lowerInfix(l, expr);
    case 'Navigation': return lowerNavigation(l, expr);
    case 'Index': return lowerIndex(l, expr);
    case 'Prefix': return lowerPrefix(l, expr);
    case 'Postfix':
      if (expr.op === '!!') return { kind: 'Unary', span, op: '!!', value: lowerExpr(l, expr.value) };
      return { ...step(l, span, expr.op, expr.value), postfix: true };
    case 'Binary': return lowerBinary(l, expr);
    case 'IsCheck':
      return { kind: 'Is', span, value: lowerExpr(l, expr.value), type: lowerType(expr.type), ...(expr.not && { not: true }) };
    case 'AsCast':
      return { kind: 'Cast', span, value: lowerExpr(l, expr.value), type: lowerType(expr.type), ...(expr.safe && { safe: true }) };
    case 'Reference':
      return { kind: 'FnRef', span, name: expr.name, ...(expr.object && { object: lowerExpr(l, expr.object) }) };
    case 'Lambda': return lowerLambda(l, expr);
    case 'FunDecl': return lowerAnonymousFunction(l, expr);
    case 'ObjectLiteral': return { kind: 'ObjectExpr', span, body: lowerClass(l, expr.body) };
    case 'Collection': return { kind: 'ListExpr', span, items: expr.items.map((item) => lowerExpr(l, item)) };
    case 'If': return { kind: 'Choose', span, branch: lowerBranch(l, expr, 'value') };
    case 'When': return { kind: 'Choose', span, branch: lowerWhen(l, expr, 'value') };
    case 'Try': return { kind: 'Choose', span, branch: lowerTry(l, expr, 'value') };
    case 'Return': return { kind: 'Leave', span, by: lowerReturn(l, expr) };
    case 'Throw': return { kind: 'Leave', span, by: lowerThrow(l, expr) };
    case 'Jump': return { kind: 'Leave', span, by: lowerJump(expr) };
    case 'Labelled': return lowerLabelled(l, expr);
    // A loop has no value; where one is wanted the program does not compile.
    case 'For': return unknown(span, [lowerExpr(l, expr.source)]);
    case 'While': return unknown(span, [lowerExpr(l, expr.test)]);
    case 'Broken': return unknown(span, expr.children.map((child) => lowerExpr(l, child)));
  }
}

function lowerLabelled(l: Lowering, expr: tree.Labelled): Expr {
  const { body, label, span } = expr;
  if (body.kind === 'Lambda') return { ...lowerLambda(l, body), span, label };
  return isExpression(body) ? lower(l, body) : unknown(span);
}

// ---- Literals -------------------------------------------------------------

const WORDS: Readonly<Record<string, boolean | null>> = { true: true, false: false, null: null };

function lowerLiteral(l: Lowering, literal: tree.Literal): Literal {
  const { span } = literal;
  const text = l.textOf(span);
  switch (literal.of) {
    case 'number': return { kind: 'Literal', span, value: numberValue(text) };
    case 'char': return { kind: 'Literal', span, value: charValue(text) };
    case 'word': return { kind: 'Literal', span, value: WORDS[text] ?? null };
  }
}

function lowerText(l: Lowering, text: tree.Text): Literal | Template {
  const parts = text.parts.map((part): Expr => (part.kind === 'TextPiece' ? pieceValue(l, part, text.raw) : lowerExpr(l, part)));
  const [only] = parts;
  if (only === undefined) return { kind: 'Literal', span: text.span, value: '' };
  if (parts.length === 1 && text.parts[0]?.kind === 'TextPiece' && only.kind === 'Literal') return { ...only, span: text.span };
  return { kind: 'Template', span: text.span, parts };
}

function pieceValue(l: Lowering, piece: tree.TextPiece, raw: boolean): Literal {
  const written = l.textOf(piece.span);
  return { kind: 'Literal', span: piece.span, value: raw ? written : unescaped(written) };
}

// ---- Access and calls -------------------------------------------------------

function lowerNavigation(l: Lowering, expr: tree.Navigation): Expr {
  return {
    kind: 'Member', span: expr.span, object: lowerExpr(l, expr.object), name: expr.name.name, nameSpan: expr.name.span,
    ...(expr.safe && { safe: 'step' }),
  };
}

function lowerIndex(l: Lowering, expr: tree.Index): Expr {
  const object = lowerExpr(l, expr.object);
  const indices = expr.indices.map((index) => lowerExpr(l, index));
  const [first, ...more] = indices;
  if (first === undefined) return unknown(expr.span, [object]);
  if (more.length === 0) return { kind: 'Index', span: expr.span, object, index: first };
  const span: Span = { start: first.span.start, end: more.at(-1)!.span.end };
  return { kind: 'Index', span: expr.span, object, index: { kind: 'ListExpr', span, items: indices } };
}

function lowerCall(l: Lowering, expr: tree.Call): Expr {
  // A name with type arguments alone, as before `::`, calls nothing.
  if (expr.args === undefined) return lower(l, expr.callee);
  const callee = lowerExpr(l, expr.callee);
  const name = callee.kind === 'Name' || callee.kind === 'Member' ? callee.name : undefined;
  return {
    kind: 'Call', span: expr.span, callee, args: lowerArguments(l, expr.args, name), typeArgs: expr.typeArgs.map(lowerType),
  };
}

/** `callee` is the name of the function that they are handed to, where it has one. */
export function lowerArguments(l: Lowering, args: readonly tree.Argument[], callee?: string): Argument[] {
  return args.map((arg) => ({
    value: arg.value.kind === 'Lambda' ? lowerLambda(l, arg.value, callee) : lowerExpr(l, arg.value),
    ...(arg.name !== undefined && { name: arg.name }),
    ...(arg.spread && { spread: true }),
    ...(arg.trailing && { trailing: true }),
  }));
}

/** Kotlin spells these operators as words. */
const WORD_OPERATORS = new Map<string, BinaryOp>([
  ['shl', '<<'], ['shr', '>>'], ['ushr', '>>>'], ['and', '&'], ['or', '|'], ['xor', '^'],
]);

function lowerInfix(l: Lowering, expr: tree.Infix): Expr {
  const left = lowerExpr(l, expr.left);
  const op = WORD_OPERATORS.get(expr.name.name);
  if (op) return { kind: 'Binary', span: expr.span, op, left, right: lowerExpr(l, expr.right) };
  const { name, span: nameSpan } = expr.name;
  const value = expr.right.kind === 'Lambda' ? lowerLambda(l, expr.right, name) : lowerExpr(l, expr.right);
  return {
    kind: 'Call', span: expr.span, infix: true, typeArgs: [], args: [{ value }],
    callee: { kind: 'Member', span: { start: expr.span.start, end: nameSpan.end }, object: left, name, nameSpan },
  };
}

// ---- Operators ----------------------------------------------------------------

function lowerPrefix(l: Lowering, expr: tree.Prefix): Expr {
  if (expr.op === '++' || expr.op === '--') return step(l, expr.span, expr.op, expr.value);
  return { kind: 'Unary', span: expr.span, op: expr.op, value: lowerExpr(l, expr.value) };
}

function step(l: Lowering, span: Span, op: '++' | '--', target: tree.Expr): Assign {
  const one: Literal = { kind: 'Literal', span: MADE, value: 1 };
  return { kind: 'Assign', span, target: lowerExpr(l, target), op: op === '++' ? '+' : '-', value: one };
}

/** Operators whose Kotlin spelling differs from the model's. */
const RENAMED = new Map<string, BinaryOp>([['?:', '??'], ['===', '=='], ['!==', '!='], ['!in', 'in']]);

function lowerBinary(l: Lowering, expr: tree.Binary): Expr {
  const op = RENAMED.get(expr.op) ?? (expr.op as BinaryOp);
  const binary: Expr = { kind: 'Binary', span: expr.span, op, left: lowerExpr(l, expr.left), right: lowerExpr(l, expr.right) };
  return expr.op === '!in' ? { kind: 'Unary', span: expr.span, op: '!', value: binary } : binary;
}
