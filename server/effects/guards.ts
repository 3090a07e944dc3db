/**
 * What a condition on the way means for an operation: that its start was refused, or that at most one element of a loop
 * can get there. Whether a condition says that the slot is free is `busy-flags.ts`.
 */
import type { Call, Expr } from '../ir/ir.js';
import type { Guard } from '../flow/graph.js';
import type { Analysis } from './analysis.js';
import { returnsOf, yieldsOf } from './origins.js';
import { roleOf } from './roles.js';

/** The starts that did not take place when this guard holds: their answer was no, or they were not reached for a null. */
export function refused(a: Analysis, guard: Guard): (call: Call) => boolean {
  if (guard.is === 'null' && guard.holds) {
    // `x?.let { start(it) } ?: other()`: who comes to the right has not started on the left.
    const { value } = guard;
    return call => value.span.start <= call.span.start && call.span.end <= value.span.end && a.fileOf(call) === a.fileOf(value);
  }
  const failed = refusedStarts(a, guard);
  return call => failed.includes(call);
}

/** Whether a start was refused when this guard holds. */
export function acceptFailed(a: Analysis, guard: Guard): boolean {
  return refusedStarts(a, guard).length > 0;
}

/** The starts, of which one at most took place, whose answer says "not accepted" when this guard holds. */
function refusedStarts(a: Analysis, guard: Guard): readonly Call[] {
  if (guard.is === 'match') return failedMatch(a, guard);
  return guard.is === 'condition' ? failedTest(a, guard.test, guard.holds) : [];
}

function failedTest(a: Analysis, test: Expr, holds: boolean): readonly Call[] {
  if (test.kind === 'Binary' && (test.op === '==' || test.op === '!=')) {
    const equal = (test.op === '==') === holds;
    const flag = a.resolver.constants.bool(test.right);
    const isFailure = flag !== undefined ? equal !== flag : a.resolver.constants.whole(test.right) === 0 && !equal;
    return isFailure ? answerOf(a, test.left) : [];
  }
  return holds ? [] : answerOf(a, test);
}

function failedMatch(a: Analysis, guard: Guard & { is: 'match' }): readonly Call[] {
  if (!('when' in guard.test)) return [];
  const flag = a.resolver.constants.bool(guard.test.when);
  const status = a.resolver.constants.whole(guard.test.when);
  const isFailure = flag !== undefined ? flag !== guard.holds : status !== undefined && (status === 0) !== guard.holds;
  return isFailure ? answerOf(a, guard.subject) : [];
}

/** The starts whose answer an expression is: the call itself, a local that it is put in, either of two, a default for null. */
function answerOf(a: Analysis, expr: Expr): readonly Call[] {
  switch (expr.kind) {
    case 'Call': return answers(a, expr) ? [expr] : [];
    case 'Binary': return expr.op === '??' ? answerOf(a, expr.left) : [];
    case 'Cast': return answerOf(a, expr.value);
    case 'Choose': return yieldsOf(a, expr).flatMap(value => answerOf(a, value));
    case 'Name': return a.once<Expr, readonly Call[]>('answer-of', expr, [], () => {
      const decl = a.resolver.declOf(expr);
      if (decl?.is !== 'local') return [];
      // `var accepted = false; while (!accepted) { accepted = start() }`
      const values = a.resolver.writesTo(decl).flatMap(write => (write.value && a.resolver.constants.bool(write.value) === undefined ? [write.value] : []));
      return values.length === 1 ? answerOf(a, values[0]!) : [];
    });
    default: return [];
  }
}

/** Calls that say whether they were accepted: an operation itself, or a function that hands on what one says. */
function answers(a: Analysis, call: Call): boolean {
  return a.once<Call, boolean>('answers', call, false, () => {
    const role = roleOf(a, call);
    if (role) return role.answer === 'accept-flag' || role.answer === 'accept-status';
    const { fns } = a.resolver.calleeOf(call);
    return fns.length > 0 && fns.every(fn => fn.body !== undefined && ['boolean', 'number'].includes(a.resolver.resultOf(fn)?.name ?? '') && returnsOf(a, fn).length > 0);
  });
}

/** A test that singles one thing out: `uuid == X`, a `when` arm with a constant. */
export function matchesOne(a: Analysis, guard: Guard): boolean {
  if (guard.is === 'match') return guard.holds && 'when' in guard.test && isFixed(a, guard.test.when);
  if (guard.is !== 'condition') return false;
  const { test } = guard;
  if (test.kind === 'Binary' && (test.op === '==' || test.op === '!=')) {
    if ((test.op === '==') !== guard.holds || isPlain(a, test.left) || isPlain(a, test.right) || isComputed(test.left) || isComputed(test.right)) return false;
    return isFixed(a, test.left) || isFixed(a, test.right);
  }
  if (test.kind === 'Call' && test.callee.kind === 'Member' && /^(?:equals|equalsIgnoreCase|contentEquals|startsWith|endsWith)$/.test(test.callee.name)) return guard.holds;
  return false;
}

/** `properties and NOTIFY == NOTIFY`: a mask fits many. */
const isComputed = (expr: Expr): boolean => expr.kind === 'Binary' || (expr.kind === 'Call' && expr.infix === true);

/** Truth values and null single nothing out. */
function isPlain(a: Analysis, expr: Expr): boolean {
  return (expr.kind === 'Literal' && expr.value === null) || a.resolver.constants.bool(expr) !== undefined;
}

function isFixed(a: Analysis, expr: Expr): boolean {
  const { constants } = a.resolver;
  if (expr.kind === 'Literal' || constants.uuid(expr) !== undefined || constants.text(expr) !== undefined || constants.whole(expr) !== undefined) return true;
  if (expr.kind === 'Call' && expr.callee.kind === 'Member' && /^(?:lowercase|uppercase|toLowerCase|toUpperCase|toString|fromString)$/.test(expr.callee.name)) {
    return isFixed(a, expr.callee.object) || (expr.args[0] !== undefined && isFixed(a, expr.args[0].value));
  }
  if (expr.kind !== 'Name' && expr.kind !== 'Member') return false;
  const decl = a.resolver.declOf(expr);
  return decl?.is === 'entry' || decl?.is === 'param' || (decl?.is === 'field' && !decl.node.mutable);
}
