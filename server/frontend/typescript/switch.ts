/**
 * `switch`, whose clauses share one scope, fall through and are left by `break`.
 *
 * In the model an arm ends where its body ends, so a `break` that closes a clause
 * is left out. Any other `break` of the switch leaves a block labelled `switch`
 * around it, for in the model a bare `break` always means the nearest loop.
 */
import ts from 'typescript';
import { MADE, type Arm, type Block, type Branch, type Span, type Stmt, type Test } from '../../ir/ir.js';
import { spanFrom, spanOf, startOf, withBreaksOf, type Lowering } from './context.js';
import { lowerExpr } from './expressions.js';
import { lowerStatements } from './statements.js';

export function lowerSwitch(cx: Lowering, node: ts.SwitchStatement, span: Span): Branch | Block {
  const subject = lowerExpr(cx, node.expression);
  const { result: arms, isLeft } = withBreaksOf(cx, 'switch', () => lowerClauses(cx, node.caseBlock.clauses));
  const branch: Branch = { kind: 'Branch', span, subject, arms: defaultLast(arms) };
  return isLeft ? { kind: 'Block', span, label: 'switch', stmts: [branch] } : branch;
}

/** Clauses without statements share the body of the next one that has any. */
function lowerClauses(cx: Lowering, clauses: readonly ts.CaseOrDefaultClause[]): Arm[] {
  const arms: Arm[] = [];
  let tests: Test[] = [];
  let first: ts.CaseOrDefaultClause | undefined;
  let isElse = false;
  clauses.forEach((clause, i) => {
    first ??= clause;
    if (ts.isCaseClause(clause)) tests.push({ when: lowerExpr(cx, clause.expression) });
    else isElse = true;
    const isLast = i === clauses.length - 1;
    if (clause.statements.length === 0 && !isLast) return;
    const { body, isClosed } = lowerClauseBody(cx, clause);
    const falls = !isClosed && !isLast && canComplete(body.stmts);
    arms.push({ span: spanFrom(cx, first, clause), tests: isElse ? [] : tests, body, ...(falls && { falls }) });
    tests = [];
    first = undefined;
    isElse = false;
  });
  return arms;
}

/** The statements of a clause, its closing `break` left out; `isClosed` says that there was one. */
function lowerClauseBody(cx: Lowering, clause: ts.CaseOrDefaultClause): { body: Block; isClosed: boolean } {
  let statements: readonly ts.Statement[] = clause.statements;
  const [first] = statements;
  let span: Span = { start: first === undefined ? clause.end : startOf(cx, first), end: clause.end };
  let isClosed = endsInBreak(statements);
  if (isClosed) statements = statements.slice(0, -1);
  const [only] = statements;
  if (statements.length === 1 && only !== undefined && ts.isBlock(only)) {
    span = spanOf(cx, only);
    statements = only.statements;
    if (endsInBreak(statements)) {
      isClosed = true;
      statements = statements.slice(0, -1);
    }
  }
  return { body: { kind: 'Block', span, stmts: lowerStatements(cx, statements) }, isClosed };
}

function endsInBreak(statements: readonly ts.Statement[]): boolean {
  const last = statements.at(-1);
  return last !== undefined && ts.isBreakStatement(last) && last.label === undefined;
}

/** Whether control may reach the end of the list: a cautious answer from the last statement alone. */
function canComplete(stmts: readonly Stmt[]): boolean {
  const last = stmts.at(-1);
  switch (last?.kind) {
    case 'Return':
    case 'Throw':
    case 'Jump':
      return false;
    case 'Block':
      return last.label !== undefined || canComplete(last.stmts);
    case 'Branch':
      return !last.arms.some((arm) => arm.tests.length === 0) || last.arms.some((arm) => canComplete(arm.body.stmts));
    case 'Try':
      return canComplete(last.body.stmts) || last.catches.some((caught) => canComplete(caught.body.stmts));
    default:
      return true;
  }
}

/**
 * Arms are tried in order, so `default` goes behind the others. Where it falls into the next clause, or the one before
 * falls into it, it must keep its place: there it is taken or not, which is all that an unknown guard says.
 */
function defaultLast(arms: readonly Arm[]): readonly Arm[] {
  const at = arms.findIndex((arm) => arm.tests.length === 0);
  const fallback = arms[at];
  if (fallback === undefined || at === arms.length - 1) return arms;
  if (fallback.falls || arms[at - 1]?.falls) return arms.with(at, { ...fallback, guard: { kind: 'Unknown', span: MADE, children: [] } });
  return [...arms.slice(0, at), ...arms.slice(at + 1), fallback];
}
