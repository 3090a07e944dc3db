/**
 * Whether anything ever gets to a place that closes a link, and whether it then closes the link in every state that it can
 * be in: one that is still being connected, one whose connecting failed.
 */
import type { AnyNode, Call, Class, Expr, Fn } from '../ir/ir.js';
import type { Edge, Guard, Step } from '../flow/graph.js';
import { unguarded } from '../flow/paths.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { returnsOf } from './origins.js';
import { isBeside } from './working-ways.js';
import { callsOf, waysTo, type Way } from './ways.js';

/** Ways on which a place is reached; those that only a function without callers leads to are left out. */
export function liveWays(a: Analysis, node: AnyNode): readonly Way[] {
  return a.once<AnyNode, readonly Way[]>('live-ways', node, [], () => waysTo(a, node).filter(({ start }) => {
    if (start.is !== 'outside' || !start.fn || start.given) return true;
    return a.nameIn(a.words.teardown, start.fn) !== undefined || !isDeadEnd(a, start.fn);
  }));
}

/**
 * A function that nothing in the program calls: a private one, or one of a class that the program does use from elsewhere in
 * the same module, a `close()` that was written and forgotten. What a library offers is never that: its sample, in another
 * module, need not use all of it, and what a TypeScript module exports may be for others.
 */
function isDeadEnd(a: Analysis, fn: Fn): boolean {
  if (fn.name === undefined || fn.name === 'constructor' || a.fileOf(fn)?.language === 'typescript') return false;
  if (a.resolver.referencesTo(fn).length > 0 || a.resolver.callersOf(fn).length > 0) return false;
  if (fn.modifiers.has('override') || fn.modifiers.has('abstract') || fn.annotations.length > 0) return false;
  if (fn.modifiers.has('private')) return true;
  const owner = a.program.ownerOf(fn);
  // An override is called by whoever knows the type above, which says nothing about who uses the class.
  const siblings = owner?.functions.filter(other => other !== fn && other.name !== undefined && !other.modifiers.has('override')) ?? [];
  return siblings.some(other => a.resolver.callersOf(other).some(call => isElsewhere(a, call, owner) && moduleOf(a, call) === moduleOf(a, fn)));
}

function isElsewhere(a: Analysis, call: Call, owner: Class | undefined): boolean {
  for (let cls = a.program.enclosingClass(call); cls; cls = a.program.enclosingClass(cls)) if (cls === owner) return false;
  return true;
}

/** The Gradle module of a source: what stands before `src`. */
function moduleOf(a: Analysis, node: AnyNode): string {
  return /^(.*?)(?:^|\/)src\//.exec(a.fileOf(node)?.path ?? '')?.[1] ?? '';
}

// ---- In every state -----------------------------------------------------

export type Weakness =
  /** Only while this says that the link is up: one that is pending or was lost stays open. */
  | { readonly is: 'flag'; readonly at: Expr }
  /** Only if the status is success: after a failed attempt nobody closes. */
  | { readonly is: 'success'; readonly at: AnyNode }
  /** Only if the status is not success: after an orderly disconnect nobody closes. */
  | { readonly is: 'failure'; readonly at: AnyNode }
  /** Only in the completion of some operation, which a failed or lost link never gets to. */
  | { readonly is: 'completion'; readonly at: Fn };

/** Why a place that closes does not close a link that never came up; undefined when it does, as far as one can see. */
export function weaknessOf(a: Analysis, call: Call): Weakness | undefined {
  return a.once<Call, Weakness | undefined>('weakness', call, undefined, () => {
    const found = liveWays(a, call).map(way => weaknessOn(a, call, way));
    return found.length > 0 && found.every(weakness => weakness !== undefined) ? found[0] : undefined;
  });
}

/**
 * Whether a place that closes is only ever reached because the link has ended by itself, or because something went wrong on
 * it: then the app itself never ends a link that works.
 */
export function isOnlyAfterwards(a: Analysis, call: Call): boolean {
  return a.once<Call, boolean>('only-afterwards', call, false, () => liveWays(a, call).every(way => {
    const { start } = way;
    if (start.is !== 'callback' || start.type !== 'BluetoothGattCallback') return false;
    if (start.member.name === 'onConnectionStateChange') return true;
    return [call, ...way.calls].some(place => isAfterFailure(a, place, start.fn));
  }));
}

/** Only reached where a status was not success, a look-up found nothing, a start was refused, or something was thrown. */
function isAfterFailure(a: Analysis, place: Call, callback: Fn): boolean {
  const at = a.stepsOf(place);
  const status = statusOf(a, callback);
  const gates = (edge: Edge): boolean => isBeside(a, edge) || (status !== undefined && statusSaid(a, edge.when, status) === false);
  return at !== undefined && at.steps.length > 0 && at.steps.every(step => unguarded(at.graph, step, { edge: gates }) === undefined);
}

function weaknessOn(a: Analysis, call: Call, way: Way): Weakness | undefined {
  const places = [[call], ...way.calls.map(each => alike(a, each))];
  for (const same of places) {
    const flags = same.map(place => flagBefore(a, place));
    if (flags[0] && flags.every(flag => flag !== undefined)) return { is: 'flag', at: flags[0] };
  }
  const { start } = way;
  if (start.is !== 'callback' || start.type !== 'BluetoothGattCallback') return undefined;
  if (start.member.name !== 'onConnectionStateChange') return way.deferred ? undefined : { is: 'completion', at: start.fn };
  const last = places.at(-1)!;
  if (last.every(place => onlyWhen(a, start.fn, place, true))) return { is: 'success', at: last[0]! };
  return last.every(place => onlyWhen(a, start.fn, place, false)) ? { is: 'failure', at: last[0]! } : undefined;
}

/** The calls of the same function that stand in the same function: a way is told once for all of them. */
function alike(a: Analysis, call: Call): readonly Call[] {
  const home = a.program.enclosingFn(call);
  const { fns } = a.resolver.calleeOf(call);
  const same = fns.flatMap(fn => callsOf(a, fn)).filter(other => a.program.enclosingFn(other) === home);
  return same.length > 0 ? same : [call];
}

/** A flag that has to hold before a place is reached, and that only the link's callbacks ever set. */
function flagBefore(a: Analysis, place: Call): Expr | undefined {
  return a.once<Call, Expr | undefined>('flag-before', place, undefined, () => {
    const at = a.stepsOf(place);
    if (!at || at.steps.length === 0) return undefined;
    let flag: Expr | undefined;
    const gates = (edge: Edge): boolean => {
      const test = saysUp(a, edge.when);
      if (test) flag = test;
      return test !== undefined;
    };
    return at.steps.every(step => unguarded(at.graph, step, { edge: gates }) === undefined) ? flag : undefined;
  });
}

/** The condition of a guard that says: the link is up. */
function saysUp(a: Analysis, guard: Guard | undefined): Expr | undefined {
  if (guard?.is === 'match') {
    if (!guard.holds || !('when' in guard.test)) return undefined;
    return isSetByCallbacks(a, guard.subject, guard.test.when) ? guard.subject : undefined;
  }
  if (guard?.is !== 'condition') return undefined;
  return upTest(a, guard.test, guard.holds, 0);
}

function upTest(a: Analysis, test: Expr, holds: boolean, depth: number): Expr | undefined {
  if (test.kind === 'Unary' && test.op === '!') return upTest(a, test.value, !holds, depth);
  if (test.kind === 'Binary' && (test.op === '==' || test.op === '!=')) {
    const equal = (test.op === '==') === holds;
    const flag = a.resolver.constants.bool(test.right);
    if (flag !== undefined) return upTest(a, test.left, equal === flag, depth);
    return equal && isSetByCallbacks(a, test.left, test.right) ? test : undefined;
  }
  if (!holds) return undefined;
  if (test.kind === 'Call') {
    const { fns } = a.resolver.calleeOf(test);
    const [value, ...others] = depth < 2 ? fns.flatMap(fn => returnsOf(a, fn)) : [];
    return value && others.length === 0 && upTest(a, value, holds, depth + 1) ? test : undefined;
  }
  const type = a.resolver.typeOf(test)?.name;
  return type === 'boolean' && isSetByCallbacks(a, test, undefined) ? test : undefined;
}

/**
 * Whether a place that outlives the function takes this value (absent: anything but false) only in the link's own
 * callbacks: then it does not have it while a connection is pending, nor after one has failed.
 */
function isSetByCallbacks(a: Analysis, place: Expr, value: Expr | undefined): boolean {
  const decl = stateOf(a, place);
  if (!decl) return false;
  const sets = putsInto(a, decl).filter(put => (value === undefined ? a.resolver.constants.bool(put) !== false : isSame(a, put, value)));
  return sets.length > 0 && sets.every(put => {
    const ways = waysTo(a, put);
    return ways.length > 0 && ways.every(({ start }) => start.is === 'callback' && /^BluetoothGatt(?:Server)?Callback$/.test(start.type));
  });
}

/** The mutable field, or the field with a holder of state, behind an expression. */
function stateOf(a: Analysis, place: Expr): (Decl & { readonly is: 'field' }) | undefined {
  if (place.kind !== 'Name' && place.kind !== 'Member') return undefined;
  const decl = a.resolver.declOf(place);
  if (decl?.is === 'field') return decl.node.mutable || place.kind === 'Name' ? decl : undefined;
  const isValue = place.kind === 'Member' && (place.name === 'value' || place.name === 'get') && (decl === undefined || decl.is === 'platform');
  return isValue ? stateOf(a, place.object) : undefined;
}

/** Every value that is put into a field, or into the holder of state that it is. */
function putsInto(a: Analysis, decl: Decl & { readonly is: 'field' }): readonly Expr[] {
  const direct = a.resolver.writesTo(decl).flatMap(write => (write.value ? [write.value] : []));
  const held = a.resolver.readsOf(decl).flatMap(read => {
    const member = a.program.parentOf(read);
    if (member?.kind !== 'Member' || member.object !== read) return [];
    const up = a.program.parentOf(member);
    if (up?.kind === 'Assign' && up.target === member) return [up.value];
    if (up?.kind !== 'Call' || up.callee !== member || !/^(?:set|setValue|postValue|emit|tryEmit|update|getAndSet|compareAndSet)$/.test(member.name)) return [];
    const value = up.args.at(-1)?.value;
    return value?.kind === 'Lambda' ? returnsOf(a, value.fn) : value ? [value] : [];
  });
  return [...direct, ...held];
}

function isSame(a: Analysis, x: Expr, y: Expr): boolean {
  const { constants } = a.resolver;
  const [p, q] = [constants.whole(x) ?? constants.text(x) ?? constants.bool(x), constants.whole(y) ?? constants.text(y) ?? constants.bool(y)];
  if (p !== undefined || q !== undefined) return p === q;
  const [d, e] = [declOf(a, x), declOf(a, y)];
  return d !== undefined && d === e;
}

function declOf(a: Analysis, expr: Expr): Decl | undefined {
  if (expr.kind === 'Call') return declOf(a, expr.callee);
  return expr.kind === 'Name' || expr.kind === 'Member' ? a.resolver.declOf(expr) : undefined;
}

/** Whether a place in a callback is reached only after its status was found to be success, or not to be. */
function onlyWhen(a: Analysis, callback: Fn, place: Call, success: boolean): boolean {
  const status = statusOf(a, callback);
  const graph = a.graph(callback);
  const steps = graph ? stepsUpTo(a, callback, place).flatMap(node => graph.stepsOf(node)) : [];
  if (!status || !graph || steps.length === 0) return false;
  const gates = (edge: Edge): boolean => statusSaid(a, edge.when, status) === success;
  return steps.every((step: Step) => unguarded(graph, step, { edge: gates }) === undefined);
}

function statusOf(a: Analysis, callback: Fn): Decl | undefined {
  const at = a.resolver.isPlatformCallback(callback)?.member.params?.findIndex(p => p.is === 'status') ?? -1;
  const param = at >= 0 ? callback.params[at] : undefined;
  return param && a.resolver.declFor(param);
}

/** The place itself, or the lambda that is made in the callback and in which it stands. */
function stepsUpTo(a: Analysis, callback: Fn, place: Call): readonly Expr[] {
  let at: Expr = place;
  for (let fn = a.program.enclosingFn(place); fn && fn !== callback; fn = a.program.enclosingFn(fn)) {
    const holder = a.program.parentOf(fn);
    if (holder?.kind === 'Lambda' && !a.isInlined(fn)) at = holder;
  }
  return [at];
}

/** What a guard says of the status: success, another, or nothing. */
function statusSaid(a: Analysis, guard: Guard | undefined, status: Decl): boolean | undefined {
  const isStatus = (expr: Expr): boolean => expr.kind === 'Name' && a.resolver.declOf(expr) === status;
  if (guard?.is === 'match') {
    if (!isStatus(guard.subject) || !('when' in guard.test)) return undefined;
    const isZero = a.resolver.constants.whole(guard.test.when) === 0;
    return isZero ? guard.holds : guard.holds ? false : undefined;
  }
  if (guard?.is !== 'condition' || guard.test.kind !== 'Binary') return undefined;
  const { left, right, op } = guard.test;
  const other = isStatus(left) ? right : isStatus(right) ? left : undefined;
  const value = other && a.resolver.constants.whole(other);
  if (value === undefined || (op !== '==' && op !== '!=')) return undefined;
  const equal = (op === '==') === guard.holds;
  return value === 0 ? equal : equal ? false : undefined;
}
