/** A node in another's place, and text around a node. */
import type { AnyNode, Assign, BinaryOp, Expr, Stmt } from '../../ir/ir.js';
import { Refused, type Target, type TextEdit } from '../edits.js';
import { blockAround, bracedInstead, insertion, lines, shapeOf } from './blocks.js';
import { removeEdits } from './statements.js';
import { behindPrevious, indentOf, isFirstOnLine, nextVisible } from './text.js';

export function replaceEdits(target: Target, node: Expr | Stmt, by: Expr | Stmt): TextEdit[] {
  const [parent] = target.around(node);
  if (isStmt(node) || (node.kind === 'Assign' && parent?.kind === 'Block')) {
    if (isStmt(by) || by.kind === 'Assign') return replaceStmt(target, node, by);
    if (node.kind === 'Yield' || node.kind === 'Return') throw new Refused('the value, not the statement around it, is to be replaced');
    return [{ at: node.span, text: written(target, node, by) + (target.text[node.span.end - 1] === ';' ? ';' : '') }];
  }
  if (!isStmt(by)) {
    const text = written(target, node, by);
    return [{ at: node.span, text: needsParentheses(by, node, parent) ? `(${text})` : text }];
  }
  if (parent?.kind !== 'ExprStmt') throw new Refused('a statement cannot stand where a value is needed');
  return replaceEdits(target, parent, by);
}

function written({ write, text }: Target, node: Expr | Stmt, by: Expr): string {
  return write(by, indentOf(text, node.span.start));
}

/** A made block without a label stands for several statements: neither language has a use for bare braces here. */
function replaceStmt(target: Target, node: Stmt, by: Stmt): TextEdit[] {
  const { text } = target;
  const block = blockAround(target, node);
  const shape = shapeOf(target, block);
  const isImplicit = node.kind === 'Yield' || (node.kind === 'Return' && node.implicit === true);
  if (isImplicit && shape.is !== 'list') throw new Refused('a statement cannot stand where a value is needed');
  const stmts = by.kind === 'Block' && by.label === undefined ? by.stmts : [by];
  if (stmts.length === 0) return removeEdits(target, node);
  if (stmts.length > 1 && shape.is === 'single') return bracedInstead(target, block, stmts);
  if (shape.is === 'list' && shape.braces && block.stmts.length === 1 && !text.slice(shape.inside.start, shape.inside.end).includes('\n')) {
    const spread = spreadInstead(target, node, stmts);
    if (spread) return spread;
  }
  if (stmts.length > 1 && !isFirstOnLine(text, node.span.start)) throw new Refused('several statements do not fit between others on one line');
  return [{ at: node.span, text: lines(target, stmts, indentOf(text, node.span.start)) }];
}

/** `{ a() }` becomes a block of several lines, if what comes in the place of its one statement needs them. */
function spreadInstead(target: Target, node: Stmt, stmts: readonly Stmt[]): TextEdit[] | undefined {
  const { text, style } = target;
  const outer = indentOf(text, node.span.start);
  const inner = outer + style.unit;
  const written = lines(target, stmts, inner);
  if (!written.includes('\n')) return undefined;
  return [{ at: { start: behindPrevious(text, node.span.start), end: nextVisible(text, node.span.end) }, text: style.eol + inner + written + style.eol + outer }];
}

export function wrapEdits(target: Target, node: Expr | Stmt, before: string, after: string): TextEdit[] {
  target.around(node);
  return [insertion(node.span.start, before), insertion(node.span.end, after)].filter((edit) => edit.text !== '');
}

/** An assignment is both, and left to the caller. */
function isStmt(node: Expr | Stmt): node is Exclude<Stmt, Assign> {
  switch (node.kind) {
    case 'Block':
    case 'Let':
    case 'ExprStmt':
    case 'Yield':
    case 'Branch':
    case 'Loop':
    case 'Try':
    case 'Return':
    case 'Throw':
    case 'Jump':
    case 'LocalDecl':
      return true;
    default:
      return false;
  }
}

// ---- Parentheses --------------------------------------------------------

/** Whether an expression, put where `node` stood, would be read as part of what is around it. */
function needsParentheses(by: Expr, node: Expr, parent: AnyNode | undefined): boolean {
  const own = strength(by);
  switch (parent?.kind) {
    case 'Member':
    case 'FnRef':
      return own < POSTFIX;
    case 'Call':
      return parent.callee === node && own < POSTFIX;
    case 'Index':
      return parent.object === node && own < POSTFIX;
    case 'Unary':
    case 'Await':
      return own < PREFIX;
    case 'Cast':
    case 'Is':
      return own < PREFIX;
    case 'Binary':
      return own <= OPERATORS[parent.op];
    default:
      return false;
  }
}

const POSTFIX = 100;
const PREFIX = 90;

/** Bands that hold for both languages; where the two differ (`??`, bit operators), parentheses are set rather than left out. */
const OPERATORS: Readonly<Record<BinaryOp, number>> = {
  '**': 80, '*': 70, '/': 70, '%': 70, '+': 60, '-': 60,
  '<<': 50, '>>': 50, '>>>': 50, '&': 50, '|': 50, '^': 50, '..': 50, '..<': 50,
  '<': 40, '<=': 40, '>': 40, '>=': 40, in: 40, '==': 30, '!=': 30, '&&': 20, '||': 15, '??': 12, ',': 1,
};

function strength(expr: Expr): number {
  switch (expr.kind) {
    case 'Binary': return OPERATORS[expr.op];
    case 'Is': return OPERATORS['<'];
    case 'Cast': return OPERATORS['<'];
    case 'Unary': return expr.op === '!!' ? POSTFIX : PREFIX;
    case 'Await': return PREFIX;
    case 'Assign':
    case 'Choose':
    case 'Leave':
    case 'Emit':
    case 'Lambda':
      return 0;
    default: return POSTFIX;
  }
}
