/** Whether an expression may be null where a fix would use it: then the fix calls through `?.`. */
import type { Expr } from '../ir/ir.js';
import type { Analysis } from './analysis.js';

export function isOptional(a: Analysis, expr: Expr): boolean {
  if (expr.kind === 'Unary' && expr.op === '!!') return false;
  if (expr.kind === 'This') return false;
  const parent = a.program.parentOf(expr);
  if (parent?.kind === 'Member' && parent.object === expr && parent.safe) return true;
  const decl = expr.kind === 'Name' || expr.kind === 'Member' ? a.resolver.declOf(expr) : undefined;
  const declared = decl && decl.is !== 'platform' ? a.resolver.typeOfDecl(decl) : a.resolver.typeOf(expr);
  return declared?.nullable === true;
}
