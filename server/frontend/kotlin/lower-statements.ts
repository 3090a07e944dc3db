/** Blocks and statements: what is done, and which values nobody takes. */
import type { Binding, Block, Expr, Jump, Let, Return, Stmt, Throw } from '../../ir/ir.js';
import { lowerClass, lowerTypeAlias } from './lower-classes.js';
import { lowerBranch, lowerLoop, lowerTry, lowerWhen, type Want } from './lower-control.js';
import { lowerExpr } from './lower-expressions.js';
import { lowerFunction } from './lower-functions.js';
import { lowerType } from './lower-types.js';
import { unknown, type Lowering } from './lowering.js';
import { isExpression } from './tree.js';
import type * as tree from './tree.js';

/** What becomes of the last expression of a list of statements. */
export type Last = 'discarded' | 'yielded' | 'returned';

/** The body of an arm or a loop; a single statement becomes a block around it. */
export function lowerBody(l: Lowering, body: tree.Body, want: Want): Block {
  const last: Last = want === 'value' ? 'yielded' : 'discarded';
  const stmts = body.kind === 'Block' ? body.stmts : [body];
  return { kind: 'Block', span: body.span, stmts: lowerStmts(l, stmts, last) };
}

export function lowerStmts(l: Lowering, stmts: readonly tree.Stmt[], last: Last): Stmt[] {
  return stmts.map((stmt, i) =>
    (last !== 'discarded' && i === stmts.length - 1 && hasValue(stmt) ? lowerLast(l, stmt, last) : lowerStmt(l, stmt)));
}

/**
 * Whether a statement at the end of a block gives the block a value. An `if`
 * without `else`, a loop and a jump give none.
 */
function hasValue(stmt: tree.Stmt): stmt is tree.Expr {
  switch (stmt.kind) {
    case 'If': return stmt.otherwise !== undefined;
    case 'For': case 'While': case 'Return': case 'Throw': case 'Jump': return false;
    case 'Labelled': return hasValue(stmt.body);
    default: return isExpression(stmt);
  }
}

function lowerLast(l: Lowering, expr: tree.Expr, last: 'yielded' | 'returned'): Stmt {
  const value = lowerExpr(l, expr);
  return last === 'yielded' ? { kind: 'Yield', span: expr.span, value } : { kind: 'Return', span: expr.span, value, implicit: true };
}

function lowerStmt(l: Lowering, stmt: tree.Stmt): Stmt {
  return l.deeper<Stmt>(stmt.span, () => lower(l, stmt), (expr) => ({ kind: 'ExprStmt', span: stmt.span, expr }));
}

function lower(l: Lowering, stmt: tree.Stmt): Stmt {
  const { span } = stmt;
  switch (stmt.kind) {
    case 'If': return lowerBranch(l, stmt, 'nothing');
    case 'When': return lowerWhen(l, stmt, 'nothing');
    case 'Try': return lowerTry(l, stmt, 'nothing');
    case 'For': case 'While': return lowerLoop(l, stmt);
    case 'Return': return lowerReturn(l, stmt);
    case 'Throw': return lowerThrow(l, stmt);
    case 'Jump': return lowerJump(stmt);
    case 'Labelled': return lowerLabelled(l, stmt);
    case 'Paren': return lowerParen(l, stmt);
    case 'Assignment': {
      const target = lowerExpr(l, stmt.target);
      return { kind: 'Assign', span, target, value: lowerExpr(l, stmt.value), ...(stmt.op !== undefined && { op: stmt.op }) };
    }
    case 'PropertyDecl': return lowerLet(l, stmt);
    case 'ClassDecl': return { kind: 'LocalDecl', span, declaration: lowerClass(l, stmt) };
    case 'TypeAliasDecl': return { kind: 'LocalDecl', span, declaration: lowerTypeAlias(stmt) };
    // Neither may stand in a block; their statements are kept in place.
    case 'InitBlock': return { kind: 'Block', span, stmts: lowerStmts(l, stmt.body.stmts, 'discarded') };
    case 'ConstructorDecl': return { kind: 'ExprStmt', span, expr: unknown(span) };
    case 'FunDecl':
      if (stmt.name) return { kind: 'LocalDecl', span, declaration: lowerFunction(l, stmt) };
  }
  const expr = lowerExpr(l, stmt);
  return expr.kind === 'Assign' ? expr : { kind: 'ExprStmt', span, expr };
}

/** Parentheses around a statement change nothing but its span. */
function lowerParen(l: Lowering, stmt: tree.Paren): Stmt {
  return { ...lowerStmt(l, stmt.value), span: stmt.span };
}

function lowerLabelled(l: Lowering, stmt: tree.Labelled): Stmt {
  const { body, label, span } = stmt;
  if (body.kind === 'For' || body.kind === 'While') return { ...lowerLoop(l, body, label), span };
  if (body.kind === 'Lambda') return { kind: 'ExprStmt', span, expr: lowerExpr(l, stmt) };
  return { kind: 'Block', span, label, stmts: [lowerStmt(l, body)] };
}

// ---- Variables ----------------------------------------------------------------

function lowerLet(l: Lowering, decl: tree.PropertyDecl): Let {
  const value = decl.value && lowerExpr(l, decl.value);
  return {
    kind: 'Let', span: decl.span, bindings: bindingsOf(decl.target), mutable: decl.mutable,
    ...(decl.type && { type: lowerType(decl.type) }), ...(value && { value }), ...(decl.delegated && { delegated: true }),
  };
}

/** `_` binds nothing. */
export function bindingsOf(target: tree.Ident | tree.Destructuring): readonly Binding[] {
  if (!('kind' in target)) return target.name === '_' ? [] : [{ name: target.name, span: target.span, path: [] }];
  return target.names
    .map((part, position): Binding => ({ name: part.name, span: part.span, path: [part.property ?? position] }))
    .filter((binding) => binding.name !== '_');
}

// ---- Ways out -----------------------------------------------------------------

export function lowerReturn(l: Lowering, expr: tree.Return): Return {
  const value: Expr | undefined = expr.value && lowerExpr(l, expr.value);
  return { kind: 'Return', span: expr.span, ...(value && { value }), ...(expr.label !== undefined && { label: expr.label }) };
}

export function lowerThrow(l: Lowering, expr: tree.Throw): Throw {
  return { kind: 'Throw', span: expr.span, value: lowerExpr(l, expr.value) };
}

export function lowerJump(expr: tree.Jump): Jump {
  return { kind: 'Jump', span: expr.span, to: expr.to, ...(expr.label !== undefined && { label: expr.label }) };
}
