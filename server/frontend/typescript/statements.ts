/**
 * Statements, in the order of the source. One statement of the source may become
 * several of the model (`const a = 1, b = 2`), or none (`;`).
 */
import ts from 'typescript';
import type { Block, Branch, ExprStmt, Jump, Let, Loop, Span, Stmt, Try } from '../../ir/ir.js';
import { lowerNested } from './declarations.js';
import { MAX_DEPTH, spanFrom, spanOf, startOf, withBreaksOf, type Building, type Lowering } from './context.js';
import { conditionalBranch, lowerExpr, withoutParens } from './expressions.js';
import { isAssignedPattern, lowerBindings, pushPatternAssignment } from './patterns.js';
import { lowerSwitch } from './switch.js';
import { lowerType } from './types.js';

/** Taken out once: the library hands each of its names out through a getter. */
const { SyntaxKind } = ts;

export function lowerBlock(cx: Lowering, node: ts.Block): Block {
  return { kind: 'Block', span: spanOf(cx, node), stmts: lowerStatements(cx, node.statements) };
}

export function lowerStatements(cx: Lowering, nodes: readonly ts.Statement[]): Stmt[] {
  const out: Stmt[] = [];
  for (const node of nodes) pushStatement(cx, node, out);
  return out;
}

/** The body of an `if` or a loop, braces or not. */
export function bodyOf(cx: Lowering, node: ts.Statement): Block {
  if (ts.isBlock(node) && cx.depth < MAX_DEPTH) return lowerBlock(cx, node);
  return { kind: 'Block', span: spanOf(cx, node), stmts: lowerStatements(cx, [node]) };
}

export function pushStatement(cx: Lowering, node: ts.Statement, out: Stmt[], label?: string): void {
  if (cx.depth >= MAX_DEPTH) {
    const span = spanOf(cx, node);
    cx.unreadable.push(span);
    out.push({ kind: 'ExprStmt', span, expr: { kind: 'Unknown', span, children: [] } });
    return;
  }
  cx.depth++;
  pushKnown(cx, node, out, label);
  cx.depth--;
}

function pushKnown(cx: Lowering, node: ts.Statement, out: Stmt[], label: string | undefined): void {
  const span = spanOf(cx, node);
  switch (node.kind) {
    case SyntaxKind.Block:
      out.push({ ...lowerBlock(cx, node as ts.Block), ...(label !== undefined && { label }) });
      return;
    case SyntaxKind.VariableStatement:
      pushVariables(cx, (node as ts.VariableStatement).declarationList, span, out, false);
      return;
    case SyntaxKind.ExpressionStatement:
      pushExpression(cx, (node as ts.ExpressionStatement).expression, span, out);
      return;
    case SyntaxKind.IfStatement:
      out.push(lowerIf(cx, node as ts.IfStatement, span));
      return;
    case SyntaxKind.SwitchStatement:
      out.push(lowerSwitch(cx, node as ts.SwitchStatement, span));
      return;
    case SyntaxKind.DoStatement:
    case SyntaxKind.WhileStatement:
    case SyntaxKind.ForStatement:
    case SyntaxKind.ForOfStatement:
    case SyntaxKind.ForInStatement:
      out.push({ ...lowerLoop(cx, node as ts.IterationStatement, span), ...(label !== undefined && { label }) });
      return;
    case SyntaxKind.TryStatement:
      out.push(lowerTry(cx, node as ts.TryStatement, span));
      return;
    case SyntaxKind.ReturnStatement: {
      const { expression } = node as ts.ReturnStatement;
      out.push({ kind: 'Return', span, ...(expression && { value: lowerExpr(cx, expression) }) });
      return;
    }
    case SyntaxKind.ThrowStatement:
      out.push({ kind: 'Throw', span, value: lowerExpr(cx, (node as ts.ThrowStatement).expression) });
      return;
    case SyntaxKind.BreakStatement:
    case SyntaxKind.ContinueStatement:
      out.push(lowerJump(cx, node as ts.BreakOrContinueStatement, span));
      return;
    case SyntaxKind.LabeledStatement:
      pushLabeled(cx, node as ts.LabeledStatement, span, out);
      return;
    case SyntaxKind.WithStatement:
      out.push(lowerWithHead(cx, node as ts.WithStatement, span));
      pushStatement(cx, (node as ts.WithStatement).statement, out);
      return;
    case SyntaxKind.EmptyStatement:
    case SyntaxKind.DebuggerStatement:
      return;
    default:
      for (const declaration of lowerNested(cx, node)) out.push({ kind: 'LocalDecl', span: declaration.span, declaration });
  }
}

function lowerJump(cx: Lowering, node: ts.BreakOrContinueStatement, span: Span): Jump {
  const to = ts.isBreakStatement(node) ? 'break' : 'continue';
  if (node.label !== undefined) return { kind: 'Jump', span, to, label: node.label.text };
  if (to === 'continue' || cx.breaks.of === 'loop') return { kind: 'Jump', span, to };
  cx.breaks.isLeft = true;
  return { kind: 'Jump', span, to, label: 'switch' };
}

/** The object whose members a `with` would bring in is evaluated; what the names inside mean is then unknown. */
function lowerWithHead(cx: Lowering, node: ts.WithStatement, { start }: Span): ExprStmt {
  const span = { start, end: node.expression.end };
  return { kind: 'ExprStmt', span, expr: { kind: 'Unknown', span, children: [lowerExpr(cx, node.expression)] } };
}

// ---- Variables ----------------------------------------------------------

/** Each declaration is a `Let`; the first takes the keyword, a lone one the whole statement. */
export function pushVariables(cx: Lowering, list: ts.VariableDeclarationList, span: Span, out: Stmt[], isExported: boolean): void {
  const isUsing = (list.flags & ts.NodeFlags.Using) === ts.NodeFlags.Using;
  const isConstant = (list.flags & ts.NodeFlags.Const) !== 0 || isUsing;
  list.declarations.forEach((node, i) => {
    const start = i === 0 ? span.start : startOf(cx, node);
    const end = list.declarations.length === 1 ? span.end : node.end;
    const lowered: Building<Let> = { kind: 'Let', span: { start, end }, bindings: lowerBindings(cx, node.name), mutable: !isConstant };
    if (node.type !== undefined) lowered.type = lowerType(cx, node.type);
    if (node.initializer !== undefined) lowered.value = lowerExpr(cx, node.initializer);
    if (isUsing) lowered.scoped = true;
    if (isExported) lowered.exported = true;
    out.push(lowered);
  });
}

// ---- Expressions as statements ------------------------------------------

export function pushExpression(cx: Lowering, written: ts.Expression, span: Span, out: Stmt[]): void {
  const node = withoutParens(written);
  if (ts.isVoidExpression(node)) {
    out.push({ kind: 'ExprStmt', span, expr: lowerExpr(cx, node.expression), deliberate: true });
    return;
  }
  if (ts.isConditionalExpression(node)) {
    out.push(conditionalBranch(cx, node, span, (value) => discarded(cx, value)));
    return;
  }
  if (ts.isBinaryExpression(node) && node.operatorToken.kind === SyntaxKind.EqualsToken && isAssignedPattern(node.left)) {
    pushPatternAssignment(cx, node, span, out);
    return;
  }
  const expr = lowerExpr(cx, node);
  out.push(expr.kind === 'Assign' ? { ...expr, span } : { kind: 'ExprStmt', span, expr });
}

function discarded(cx: Lowering, value: ts.Expression): Stmt {
  const out: Stmt[] = [];
  pushExpression(cx, value, spanOf(cx, value), out);
  return out.length === 1 ? out[0]! : { kind: 'Block', span: spanOf(cx, value), stmts: out };
}

// ---- Branches and loops -------------------------------------------------

/** An else-if chain is one branch of several arms. */
function lowerIf(cx: Lowering, node: ts.IfStatement, span: Span): Branch {
  const arms: Branch['arms'][number][] = [];
  let rest: ts.Statement | undefined = node;
  for (; rest !== undefined && ts.isIfStatement(rest); rest = rest.elseStatement) {
    const test = lowerExpr(cx, rest.expression);
    arms.push({ span: spanFrom(cx, rest, rest.thenStatement), tests: [{ when: test }], body: bodyOf(cx, rest.thenStatement) });
  }
  if (rest !== undefined) arms.push({ span: spanOf(cx, rest), tests: [], body: bodyOf(cx, rest) });
  return { kind: 'Branch', span, arms };
}

function lowerLoop(cx: Lowering, node: ts.IterationStatement, span: Span): Loop {
  if (ts.isForOfStatement(node) || ts.isForInStatement(node)) return lowerForEach(cx, node, span);
  if (ts.isForStatement(node)) return lowerFor(cx, node, span);
  const { expression } = node as ts.WhileStatement | ts.DoStatement;
  const isWhile = ts.isWhileStatement(node);
  const isEndless = withoutParens(expression).kind === SyntaxKind.TrueKeyword;
  return { kind: 'Loop', span, ...(!isEndless && { test: lowerExpr(cx, expression) }), testFirst: isWhile, body: loopBody(cx, node.statement) };
}

function loopBody(cx: Lowering, node: ts.Statement): Block {
  return withBreaksOf(cx, 'loop', () => bodyOf(cx, node)).result;
}

function lowerFor(cx: Lowering, node: ts.ForStatement, span: Span): Loop {
  const before: Stmt[] = [];
  const step: Stmt[] = [];
  if (node.initializer !== undefined) {
    const at = spanOf(cx, node.initializer);
    if (ts.isVariableDeclarationList(node.initializer)) pushVariables(cx, node.initializer, at, before, false);
    else pushExpression(cx, node.initializer, at, before);
  }
  if (node.incrementor !== undefined) pushExpression(cx, node.incrementor, spanOf(cx, node.incrementor), step);
  return {
    kind: 'Loop', span, ...(node.condition && { test: lowerExpr(cx, node.condition) }), testFirst: true,
    ...(before.length > 0 && { before }), ...(step.length > 0 && { step }), body: loopBody(cx, node.statement),
  };
}

/** The head may also assign to a variable that is already there; a member or pattern there binds nothing the model can name. */
function lowerForEach(cx: Lowering, node: ts.ForOfStatement | ts.ForInStatement, span: Span): Loop {
  const { initializer } = node;
  const declared = ts.isVariableDeclarationList(initializer) ? initializer.declarations[0] : undefined;
  const assigned = !ts.isVariableDeclarationList(initializer) && ts.isIdentifier(initializer)
    ? [{ name: initializer.text, span: spanOf(cx, initializer), path: [] }]
    : [];
  return {
    kind: 'Loop', span, testFirst: true,
    over: {
      bindings: declared === undefined ? assigned : lowerBindings(cx, declared.name),
      source: lowerExpr(cx, node.expression),
      ...(declared?.type && { type: lowerType(cx, declared.type) }),
      ...(ts.isForOfStatement(node) && node.awaitModifier && { awaited: true }),
      ...(ts.isForInStatement(node) && { keys: true }),
    },
    body: loopBody(cx, node.statement),
  };
}

// ---- The rest -----------------------------------------------------------

function lowerTry(cx: Lowering, node: ts.TryStatement, span: Span): Try {
  const { catchClause, finallyBlock } = node;
  return {
    kind: 'Try', span, body: lowerBlock(cx, node.tryBlock),
    catches: catchClause === undefined ? [] : [lowerCatch(cx, catchClause)],
    ...(finallyBlock && { last: lowerBlock(cx, finallyBlock) }),
  };
}

/** A pattern is a declaration of its names at the start of the handler; from what, the model has no name. */
function lowerCatch(cx: Lowering, node: ts.CatchClause): Try['catches'][number] {
  const variable = node.variableDeclaration;
  const span = spanOf(cx, node);
  const body = lowerBlock(cx, node.block);
  if (variable === undefined) return { span, body };
  if (ts.isIdentifier(variable.name)) {
    return { span, param: variable.name.text, ...(variable.type && { type: lowerType(cx, variable.type) }), body };
  }
  const bound: Let = {
    kind: 'Let', span: spanOf(cx, variable), bindings: lowerBindings(cx, variable.name), mutable: true,
  };
  const around: Span = { start: bound.span.start, end: Math.max(bound.span.end, body.span.end) };
  return { span, body: { ...body, span: around, stmts: [bound, ...body.stmts] } };
}

function pushLabeled(cx: Lowering, node: ts.LabeledStatement, span: Span, out: Stmt[]): void {
  const label = node.label.text;
  const { statement } = node;
  if (ts.isIterationStatement(statement, false) || ts.isBlock(statement)) {
    pushStatement(cx, statement, out, label);
    return;
  }
  const stmts = lowerStatements(cx, [statement]);
  out.push({ kind: 'Block', span, label, stmts });
}
