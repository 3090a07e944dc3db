/**
 * Whether a call does something that others can notice: changes state that outlives the function, talks to the link, calls
 * what is not known for its effect. A call that only asks, computes or prints does not.
 */
import type { AnyNode, Call, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { isLogCall, roleOf } from './roles.js';

/** Reads that only ask: getters, conversions, tests of what a thing is. common practice, no source */
const ASKING = /^(?:get[A-Z]\w*|is[A-Z]\w*|has[A-Z]\w*|to[A-Z]\w*|contains\w*|equals|find|first\w*|last\w*|filter\w*|any|all|none|map\w*|joinToString|format|copyOf|copyOfRange|contentToString|fromString|from|valueOf|let|run|also|apply|with|takeIf|takeUnless|isEmpty|isNotEmpty|indexOf|hashCode|checkSelfPermission|hasPermission|currentTimeMillis|elapsedRealtime|nanoTime|listOf|mapOf|arrayOf|byteArrayOf|Pair|uppercase|lowercase|substring|trim\w*|split|repeat|min|max|coerce\w*)$/;
/** Calls that end the function with an exception. Kotlin standard library. */
const ENDS = /^(?:TODO|error)$/;

export function isSuper(call: Call): boolean {
  return call.callee.kind === 'Member' && call.callee.object.kind === 'This' && call.callee.object.of === 'super';
}

/** Lambdas and other functions written among the arguments that run some other time, or nobody knows when. */
export function deferredFns(a: Analysis, call: Call): readonly Fn[] {
  return call.args.flatMap(({ value }) => {
    if (value.kind === 'Lambda') return a.isInlined(value.fn) ? [] : [value.fn];
    return value.kind === 'ObjectExpr' ? value.body.functions : [];
  });
}

/** The call by itself; functions among its arguments are the asker's affair (`deferredFns`). */
export function callActs(a: Analysis, call: Call): boolean {
  if (isLogCall(a, call)) return false;
  const does = roleOf(a, call)?.does;
  if (does && (does.has('closes-link') || does.has('disconnects-link'))) return false;
  if (does && does.size > 0) return true;
  const callee = a.resolver.calleeOf(call);
  if (callee.constructs) return false;
  if (callee.fns.length > 0) return callee.fns.some(fn => fnActs(a, fn));
  if (isSuper(call)) return false;
  const name = a.calleeName(call) ?? '';
  if (ASKING.test(name) || ENDS.test(name)) return false;
  // An unknown function whose value somebody takes may only compute; one whose value nobody takes does something.
  const parent = a.program.parentOf(call);
  return parent?.kind === 'ExprStmt' || (parent?.kind === 'Return' && parent.implicit === true);
}

/** Whether a function of the project does something in that sense, itself or through what it calls. */
export function fnActs(a: Analysis, fn: Fn): boolean {
  return a.once('fn-acts', fn, false, () => {
    if (!fn.body) return true;
    let acts = false;
    a.eachBelow(fn.body, node => {
      if (node.kind === 'Assign' && assignsOutside(a, node)) acts = true;
      if (node.kind === 'Call' && callActs(a, node) && !isOnlyResult(a, node, fn)) acts = true;
      return acts ? 'skip' : undefined;
    });
    return acts;
  });
}

/** The last expression of a function that yields something may be no more than that. */
function isOnlyResult(a: Analysis, call: Call, fn: Fn): boolean {
  const parent = a.program.parentOf(call);
  if (parent?.kind !== 'Return' || !parent.implicit || a.resolver.resultOf(fn)?.name === 'void') return false;
  return a.resolver.calleeOf(call).fns.length === 0 && !roleOf(a, call);
}

/** An assignment to anything but a local. */
export function assignsOutside(a: Analysis, assign: AnyNode & { kind: 'Assign' }): boolean {
  const { target } = assign;
  if (target.kind !== 'Name' && target.kind !== 'Member') return true;
  return a.resolver.declOf(target)?.is !== 'local';
}
