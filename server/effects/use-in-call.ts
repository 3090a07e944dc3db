/**
 * What becomes of a value that a call is given or made on: what the project's function does with its parameter, what a
 * scope function's lambda does, what Kotlin's `Result` lets through. Belongs to `use.ts`, which follows values elsewhere.
 */
import type { Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { isLogCall } from './roles.js';
import { runOf } from './runs.js';
import { compared, dropped, strongest, useOf, type Use } from './use.js';

/** Functions of plain values that only make another of it. Kotlin standard library. */
const MAKES_ANOTHER = /^(?:and|or|xor|not|toString|toInt|compareTo|hashCode|let|await|getCompleted)$/;

/** The value is an argument. */
export function inCall(a: Analysis, call: Call, expr: Expr): Use {
  const { fns, complete, members } = a.resolver.calleeOf(call);
  if (fns.length === 0 || !complete) {
    if (isLogCall(a, call)) return { is: 'logged', at: call.span };
    if (call.callee.kind !== 'Member') return { is: 'passed' };
    if (call.callee.name === 'equals') return compared(a, expr, call.callee.object) ?? useOf(a, call);
    // `ok and started()`; a collection's or a flow's function of that name keeps it.
    const isBoolean = a.resolver.typeOf(call.callee.object)?.name === 'boolean';
    return isBoolean && MAKES_ANOTHER.test(call.callee.name) && members.length <= 1 ? useOf(a, call) : { is: 'passed' };
  }
  return strongest(fns.map((fn): Use => {
    const param = fn.params.find(p => a.resolver.argumentFor(call, fn, p) === expr);
    if (!fn.body || !param) return { is: 'passed' };
    return ofParam(a, call, fn, param) ?? { is: 'passed' };
  }), { is: 'passed' });
}

function ofParam(a: Analysis, call: Call, fn: Fn, param: Fn['params'][number]): Use | undefined {
  const decl = a.resolver.declFor(param);
  if (!decl || param.property) return undefined;
  const reads = a.resolver.readsOf(decl);
  if (reads.length === 0) return dropped('parameter-ignored', call.span);
  return throughFunction(a, call, fn, reads);
}

/** The function's uses of what it was given; what it returns again is used as its call is. */
function throughFunction(a: Analysis, call: Call, fn: Fn, reads: readonly Expr[]): Use {
  const uses = reads.map(read => {
    const use = useOf(a, read);
    return use.is === 'returned' && use.from === fn ? useOf(a, call) : use;
  });
  return strongest(uses.map(use => (use.is === 'discarded' ? dropped('parameter-ignored', call.span) : use)), { is: 'unknown' });
}

/** `flag.also { … }`, `flag.let(::check)`, `flag.orThrow()`: the receiver of a call is looked at by what is called. */
export function asReceiver(a: Analysis, member: Expr & { kind: 'Member' }, expr: Expr): Use {
  const call = a.program.parentOf(member);
  if (expr !== member.object) return { is: 'unknown' };
  if (call?.kind !== 'Call' || call.callee !== member) return { is: 'passed' };
  const callee = a.resolver.calleeOf(call);
  if (callee.fns.length > 0) return strongest(callee.fns.map(fn => ofExtension(a, call, fn)), { is: 'passed' });
  const given = call.args.at(-1)?.value;
  const runner = given ? runOf(a, call, given)?.runner : undefined;
  if (given && (runner?.passes?.[0] === 'receiver' || runner?.self === 'receiver')) return inScope(a, call, given, runner.yields === 'receiver');
  if (member.name === 'equals' && given) return compared(a, expr, given) ?? useOf(a, call);
  return MAKES_ANOTHER.test(member.name) ? useOf(a, call) : { is: 'passed' };
}

/** An extension function of the project: what it does with `this`. */
function ofExtension(a: Analysis, call: Call, fn: Fn): Use {
  if (!fn.body || !fn.receiver) return { is: 'passed' };
  const own = thisIn(a, fn);
  return own.length === 0 ? dropped('parameter-ignored', call.span) : throughFunction(a, call, fn, own);
}

/** The lambda or reference of a scope function, which is given the value as its parameter or as `this`. */
function inScope(a: Analysis, call: Call, given: Expr, yieldsReceiver: boolean): Use {
  const uses = (a.resolver.functionValue(given) ?? []).map((fn): Use => {
    const param = fn.params[0];
    const decl = param && a.resolver.declFor(param);
    const reads = decl ? a.resolver.readsOf(decl) : thisIn(a, fn);
    const within = strongest(reads.map(read => useOf(a, read)), dropped('statement'));
    return within.is === 'returned' && given.kind !== 'Lambda' ? useOf(a, call) : within;
  });
  if (uses.length === 0 && given.kind !== 'Lambda') return { is: 'passed' };
  if (yieldsReceiver) uses.push(useOf(a, call));
  return strongest(uses, dropped('statement'));
}

function thisIn(a: Analysis, fn: Fn): readonly Expr[] {
  const found: Expr[] = [];
  if (fn.body) {
    a.eachBelow(fn.body, node => {
      if (node.kind === 'This' && node.of === 'this' && (node.label === undefined || node.label === fn.name)) found.push(node);
      return node.kind === 'Class' ? 'skip' : undefined;
    });
  }
  return found;
}

// ---- kotlin.Result ------------------------------------------------------

/** What `Result` yields again, and what only asks whether an exception came. Source: Kotlin standard library, kotlin.Result. */
const UNWRAPS = /^(?:getOrNull|getOrThrow|getOrDefault|getOrElse)$/;
const PASSES_ON = /^(?:onSuccess|onFailure|also|apply|recover|recoverCatching)$/;
const ASKS = /^(?:isSuccess|isFailure|exceptionOrNull)$/;

/** What becomes of the value inside a `Result` that this expression is. */
export function ofResult(a: Analysis, result: Expr): Use {
  return a.once<Expr, Use>('use-of-result', result, { is: 'unknown' }, () => {
    const parent = a.program.parentOf(result);
    if (parent?.kind === 'ExprStmt') return dropped('statement');
    if (parent?.kind === 'Let') {
      const decl = a.resolver.declFor(parent, parent.bindings[0]);
      return decl ? strongest(a.resolver.readsOf(decl).map(read => ofResult(a, read)), dropped('never-read')) : { is: 'passed' };
    }
    if (parent?.kind === 'Return' && parent.implicit) return useOf(a, result).is === 'discarded' ? dropped('lambda-dropped') : { is: 'passed' };
    if (parent?.kind !== 'Member' || parent.object !== result) return { is: 'passed' };
    if (ASKS.test(parent.name)) return dropped('absence-only', parent.nameSpan);
    const call = a.program.parentOf(parent);
    if (call?.kind !== 'Call' || call.callee !== parent) return { is: 'passed' };
    if (UNWRAPS.test(parent.name)) return useOf(a, call);
    if (!PASSES_ON.test(parent.name)) return { is: 'passed' };
    const onward = ofResult(a, call);
    return parent.name === 'onSuccess' ? strongest([onward, onSuccess(a, call)], onward) : onward;
  });
}

function onSuccess(a: Analysis, call: Call): Use {
  const handler = call.args.at(-1)?.value;
  const reads = (handler && a.resolver.functionValue(handler) || []).flatMap(fn => {
    const decl = fn.params[0] && a.resolver.declFor(fn.params[0]);
    return decl ? a.resolver.readsOf(decl) : [];
  });
  return strongest(reads.map(read => useOf(a, read)), dropped('absence-only', call.span));
}
