/**
 * Ways on which things do not work, and which are left out where it is asked what the code does when they do: a look-up
 * finds nothing, a start is refused, something is thrown, a characteristic cannot notify after all.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import type { Edge } from '../flow/graph.js';
import type { Analysis } from './analysis.js';
import { acceptFailed } from './guards.js';
import { roleOf } from './roles.js';

export function isBeside(a: Analysis, edge: Edge): boolean {
  const guard = edge.when;
  if (!guard) return false;
  if (guard.is === 'exception') return true;
  if (guard.is === 'null') return guard.holds && isLookUp(a, guard.value);
  if (guard.is !== 'condition') return false;
  if (acceptFailed(a, guard) || (!guard.holds && saysAccepted(a, guard.test)) || cannotNotify(a, guard.test, guard.holds)) return true;
  if (guard.test.kind !== 'Binary') return false;
  const { op, left, right } = guard.test;
  if (right.kind === 'Literal' && right.value === null) return (op === '==' ? guard.holds : op === '!=' && !guard.holds) && isLookUp(a, left);
  return right.kind === 'Literal' && right.value === false && op === '==' && guard.holds && saysAccepted(a, left);
}

function isLookUp(a: Analysis, value: Expr): boolean {
  return /^Bluetooth(?:Gatt|Remote)/.test(a.resolver.typeOf(value)?.name ?? '');
}

/** A helper of the project that says with a boolean whether what it starts was accepted. */
function saysAccepted(a: Analysis, test: Expr): boolean {
  if (test.kind !== 'Call' || a.resolver.typeOf(test)?.name !== 'boolean') return false;
  const { fns } = a.resolver.calleeOf(test);
  return fns.length > 0 && fns.every(fn => startsInside(a, fn, 0));
}

function startsInside(a: Analysis, fn: Fn, depth: number): boolean {
  return fn.body !== undefined && a.once<Fn, boolean>(`starts-inside-${depth}`, fn, false, () => {
    let found = false;
    a.eachBelow(fn.body!, node => {
      if (node.kind === 'Call') found ||= isStart(a, node) || (depth < 2 && a.resolver.calleeOf(node).fns.some(inner => startsInside(a, inner, depth + 1)));
      return found ? 'skip' : undefined;
    });
    return found;
  });
}

function isStart(a: Analysis, call: Call): boolean {
  const role = roleOf(a, call);
  return role?.answer === 'accept-flag' || role?.answer === 'accept-status';
}

/** A test of the properties that says: this characteristic does not notify. What the code subscribes to does. */
export function cannotNotify(a: Analysis, test: Expr, holds: boolean): boolean {
  if (test.kind === 'Call') return !holds && asksProperties(a, test, 0);
  if (test.kind === 'Member') return !holds && /^(?:notify|indicate)$/.test(test.name);
  if (test.kind !== 'Binary' || !asksProperties(a, test, 0)) return false;
  const isZero = a.resolver.constants.whole(test.right) === 0;
  if (test.op === '==') return holds === isZero;
  if (test.op === '!=') return holds !== isZero;
  return test.op === '>' && !holds;
}

function asksProperties(a: Analysis, expr: AnyNode, depth: number): boolean {
  let found = false;
  a.eachBelow(expr, node => {
    if (node.kind === 'Member' && node.name === 'properties' && isLookUp(a, node.object)) found = true;
    if (node.kind === 'Name' && node.name === 'properties') found = true;
    if (node.kind === 'Call' && depth < 2) found ||= a.resolver.calleeOf(node).fns.some(fn => fn.body !== undefined && fn.body.stmts.length === 1 && asksProperties(a, fn.body, depth + 1));
    return found ? 'skip' : undefined;
  });
  return found;
}
