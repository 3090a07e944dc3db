/**
 * What a condition on the way means for the slot of a link: the failure of a start, a flag that may guard the slot, a
 * test that at most one element of a loop can meet.
 */
import type { Call, Expr } from '../ir/ir.js';
import type { Guard } from '../flow/graph.js';
import type { Analysis } from './analysis.js';
import { roleOf } from './roles.js';

/** The start whose answer says "not accepted" when this guard holds. */
export function acceptFailed(a: Analysis, guard: Guard): Call | undefined {
  if (guard.is !== 'condition') return undefined;
  const { test } = guard;
  if (test.kind === 'Binary' && (test.op === '==' || test.op === '!=')) {
    const equal = (test.op === '==') === guard.holds;
    const started = startOf(a, test.left);
    const flag = a.resolver.constants.bool(test.right);
    if (flag !== undefined) return started && equal !== flag ? started : undefined;
    const status = a.resolver.constants.whole(test.right);
    return started && status === 0 && !equal ? started : undefined;
  }
  return guard.holds ? undefined : startOf(a, test);
}

/** The start whose answer an expression is: the call itself, a local bound to it, or either with a default for null. */
function startOf(a: Analysis, expr: Expr): Call | undefined {
  if (expr.kind === 'Call') return roleOf(a, expr)?.answer === 'none' ? undefined : roleOf(a, expr) && expr;
  if (expr.kind === 'Binary' && expr.op === '??') return startOf(a, expr.left);
  if (expr.kind !== 'Name') return undefined;
  const decl = a.resolver.declOf(expr);
  if (decl?.is !== 'local') return undefined;
  const [write, ...others] = a.resolver.writesTo(decl);
  return write?.value && others.length === 0 ? startOf(a, write.value) : undefined;
}

/** Types whose presence says nothing about the slot. */
const RESOURCES = /^(?:Bluetooth\w*|UUID|Context|string|bytes)$/;

/**
 * Whether a condition may stand for "the slot is free": it reads state that outlives the function (a flag, a counter, a
 * collection, an atomic), or asks a function of the project. A null test of a GATT object does not.
 */
export function guardsSlot(a: Analysis, guard: Guard): boolean {
  const test = guard.is === 'condition' ? guard.test : guard.is === 'match' ? guard.subject : guard.is === 'null' ? guard.value : undefined;
  return test !== undefined && a.once(`guards-${guard.is}`, test, false, () => readsState(a, test, guard.is === 'null'));
}

function readsState(a: Analysis, test: Expr, nullTest: boolean): boolean {
  let found = false;
  a.eachBelow(test, node => {
    if (found) return 'skip';
    if (node.kind === 'Lambda') return 'skip';
    if (node.kind === 'Name' || node.kind === 'Member') {
      const decl = a.resolver.declOf(node);
      if (decl?.is !== 'field' || !decl.node.mutable && !isHolder(a, node)) return undefined;
      const type = a.resolver.typeOf(node)?.name;
      if (type !== undefined && RESOURCES.test(type)) return undefined;
      // `field?.let { }` on something that is no operation and no flag: a view, a listener.
      if (nullTest && type !== undefined && !/^(?:number|boolean|fun|Job|CompletableDeferred|Deferred|Promise|.*Continuation)$/.test(type)) return undefined;
      found = true;
    }
    return undefined;
  });
  return found;
}

/** Objects that hold state behind an immutable name. */
function isHolder(a: Analysis, expr: Expr): boolean {
  const type = a.resolver.typeOf(expr)?.name;
  return type !== undefined && /^(?:Atomic\w+|list|set|map|.*(?:Queue|Deque|StateFlow|LiveData)|Semaphore|Mutex)$/.test(type);
}

/** A test that singles one thing out: `uuid == X`, a `when` arm with a constant. */
export function matchesOne(a: Analysis, guard: Guard): boolean {
  if (guard.is === 'match') return guard.holds && 'when' in guard.test && isConstant(a, guard.test.when);
  if (guard.is !== 'condition') return false;
  const { test } = guard;
  if (test.kind === 'Binary' && (test.op === '==' || test.op === '!=')) {
    return (test.op === '==') === guard.holds && (isConstant(a, test.left) || isConstant(a, test.right));
  }
  if (test.kind === 'Call' && test.callee.kind === 'Member' && /^(?:equals|equalsIgnoreCase|contentEquals)$/.test(test.callee.name)) return guard.holds;
  return false;
}

function isConstant(a: Analysis, expr: Expr): boolean {
  const { constants } = a.resolver;
  if (expr.kind === 'Literal' || constants.uuid(expr) !== undefined || constants.text(expr) !== undefined || constants.whole(expr) !== undefined) return true;
  if (expr.kind !== 'Name' && expr.kind !== 'Member') return false;
  const decl = a.resolver.declOf(expr);
  return decl?.is === 'entry' || decl?.is === 'param' || (decl?.is === 'field' && !decl.node.mutable);
}
