/**
 * Where the answer of a call is dropped, as a place that a fix can change: the statement, the end of a lambda, the name
 * that nobody reads. A place with another shape is left to the user.
 */
import type { Code } from '../../server/facts/facts.js';
import type { Assign, Call, Expr, Let, Return, Stmt } from '../../server/ir/ir.js';

export type DropSite =
  /** The value is a statement, or the first half of `value ?: fallback`. */
  | { readonly is: 'statement'; readonly stmt: Stmt; readonly value: Expr; readonly fallback?: Expr }
  /** The value is the end of a lambda that need not yield anything. */
  | { readonly is: 'lambda'; readonly stmt: Return; readonly value: Expr }
  | { readonly is: 'name'; readonly stmt: Let | Assign; readonly value: Expr; readonly name: Expr };

export function dropSiteOf(code: Code, call: Call): DropSite | undefined {
  let value: Expr = call;
  for (;;) {
    const parent = code.parentOf(value);
    switch (parent?.kind) {
      case 'Cast': value = parent; continue;
      case 'Binary': {
        // `ready && started()` and `a?.started() ?: fallback()`; in other company the value means something else.
        if (parent.op === '&&' && parent.right === value) { value = parent; continue; }
        const stmt = code.parentOf(parent);
        return parent.op === '??' && parent.left === value && stmt?.kind === 'ExprStmt' ? { is: 'statement', stmt, value, fallback: parent.right } : undefined;
      }
      case 'ExprStmt': return { is: 'statement', stmt: parent, value };
      case 'Return': return lambdaEnd(code, parent, value);
      case 'Let': {
        const [binding] = parent.bindings;
        return binding && parent.bindings.length === 1 && binding.path.length === 0 ? { is: 'name', stmt: parent, value, name: { kind: 'Name', span: { start: -1, end: -1 }, name: binding.name } } : undefined;
      }
      case 'Assign': return parent.value === value && parent.op === undefined && code.parentOf(parent)?.kind === 'Block' ? { is: 'name', stmt: parent, value, name: parent.target } : undefined;
      default: return undefined;
    }
  }
}

/** Only where the lambda may end in a statement as well. */
function lambdaEnd(code: Code, stmt: Return, value: Expr): DropSite | undefined {
  const fn = code.enclosingFn(stmt);
  const lambda = fn && code.parentOf(fn);
  if (!stmt.implicit || lambda?.kind !== 'Lambda') return undefined;
  const wanted = code.wantedResult(lambda)?.name;
  return wanted === undefined || wanted === 'void' || wanted === 'any' ? { is: 'lambda', stmt, value } : undefined;
}
