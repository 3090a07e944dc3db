/**
 * Links that their holder forgets while they are open: overwritten by the next one, or replaced by null after `disconnect()`.
 * Whatever closes the holder later no longer reaches them.
 */
import type { AnyNode, Assign, Call, Expr, Fn } from '../ir/ir.js';
import type { Edge, Graph, Guard, Step } from '../flow/graph.js';
import { wayFrom } from '../flow/paths.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { closes, closesSomewhere } from './closing.js';
import type { Holder } from './holders.js';
import { callsDoing } from './operations.js';
import { originsOf, receiverOrigins } from './origins.js';
import { roleOf } from './roles.js';
import { callsOf, waysTo, type Way } from './ways.js';

export type Overwriting =
  /** A further round of a loop, or a second opening in the same function. */
  | { readonly is: 'again'; readonly second: Call }
  /** After `disconnect()` of the one before, which leaves that one registered. */
  | { readonly is: 'after-disconnect'; readonly at: Call }
  /** For every value of a stream: a scan result opens a link each time that it comes. */
  | { readonly is: 'stream'; readonly way: Way }
  /** A callback of the link itself opens the next one. */
  | { readonly is: 'reconnect'; readonly at: Call; readonly callback: Fn }
  /** Nothing here asks whether one is open: a second press of a button. */
  | { readonly is: 'possible' };

/** Whether a link takes the place of one that may be open; `provable` or not is what `is` says. */
export function overwritingOf(a: Analysis, open: Call, holders: readonly Holder[], callbacks: ReadonlySet<Fn>, throughCallback: boolean): Overwriting | undefined {
  const places = holders.flatMap(h => (h.is === 'decl' && h.decl.is === 'field' && h.keeps !== 'many' ? [h] : []));
  const single = new Set<Decl>(places.flatMap(h => (h.keeps === 'one' ? [h.decl] : [])));
  const any = new Set<Decl>(places.map(h => h.decl));
  if (any.size === 0 || keepsElsewhere(holders, any)) return undefined;
  const second = single.size > 0 ? secondOpening(a, open, single) ?? callerInLoop(a, open, single) : undefined;
  if (second) return { is: 'again', second };
  const left = single.size > 0 && !throughCallback ? disconnectedBefore(a, open, single) : undefined;
  if (left) return { is: 'after-disconnect', at: left };
  const ways = waysTo(a, open);
  const isOpenPath = (way: Way): boolean => [open, ...way.calls].every(place => hasWayPast(a, place, any));
  for (const way of ways) {
    const { start } = way;
    const stream = start.is === 'callback' ? start.member.name : start.is === 'event' ? a.calleeName(start.run.call) ?? '' : '';
    if (single.size > 0 && SCAN_CALLBACKS.test(stream) && ![open, ...way.calls].some(place => isConditional(a, place))) return { is: 'stream', way };
    if (start.is !== 'callback') continue;
    const at = way.calls.at(-1);
    const between = [open, ...way.calls].slice(0, -1);
    if (at && callbacks.has(start.fn) && isOpenPath(way) && !closesSomewhere(a, start.fn) && !between.some(place => isConditional(a, place))) return { is: 'reconnect', at, callback: start.fn };
  }
  const presses = ways.some(way => ((way.start.is === 'event' && !closesSomewhere(a, way.start.fn)) || (way.start.is === 'outside' && way.start.known && isPublic(way.start.fn))) && isOpenPath(way) && ![open, ...way.calls].some(place => isConditional(a, place)));
  return single.size > 0 && presses ? { is: 'possible' } : undefined;
}

/** The link is in a collection as well: whoever closes that one closes this one. */
function keepsElsewhere(holders: readonly Holder[], any: ReadonlySet<Decl>): boolean {
  return holders.some(h => h.is === 'decl' && h.keeps === 'many' && !any.has(h.decl));
}

function isPublic(fn: Fn | undefined): boolean {
  return fn?.name !== undefined && !['private', 'protected'].some(m => fn.modifiers.has(m as 'private')) && fn.name !== 'constructor' && fn.name !== 'onCreate';
}

/** Another opening into the same place that is reached without a close in between, itself in a further round included. */
function secondOpening(a: Analysis, open: Call, places: ReadonlySet<Decl>): Call | undefined {
  const at = a.stepsOf(open);
  if (!at) return undefined;
  const opensSame = (step: Step): boolean => step.node?.kind === 'Call' && (step.node === open || opensInto(a, step.node, places));
  for (const from of at.steps) {
    const way = wayFrom(from, opensSame, stopsFor(a, places));
    const second = way?.at(-1)?.node;
    if (second?.kind === 'Call') return second;
  }
  return undefined;
}

/** A caller that comes round to its call again, for the next device, without a close in between. */
function callerInLoop(a: Analysis, open: Call, places: ReadonlySet<Decl>): Call | undefined {
  for (const { calls } of waysTo(a, open)) {
    for (const [i, call] of calls.entries()) {
      const inner = [open, ...calls.slice(0, i)];
      if (!inner.every(place => hasWayPast(a, place, places) && !isConditional(a, place))) break;
      const steps = a.stepsOf(call)?.steps ?? [];
      if (steps.some(step => wayFrom(step, to => to === step, stopsFor(a, places)))) return call;
    }
  }
  return undefined;
}

/** A call that only disconnects what the place holds, from which the opening is reached without a close in between. */
function disconnectedBefore(a: Analysis, open: Call, places: ReadonlySet<Decl>): Call | undefined {
  const at = a.stepsOf(open);
  for (const step of at?.graph.steps ?? []) {
    const call = step.node;
    if (call?.kind !== 'Call' || !disconnects(a, call, places) || closes(a, call)) continue;
    if (wayFrom(step, to => at!.steps.includes(to), stopsFor(a, places))) return call;
  }
  return undefined;
}

function disconnects(a: Analysis, call: Call, places: ReadonlySet<Decl>): boolean {
  const isOn = (each: Call): boolean => roleOf(a, each)?.does.has('disconnects-link') === true && receiverOrigins(a, each).some(o => o.is === 'decl' && places.has(o.decl));
  if (isOn(call)) return true;
  return a.resolver.calleeOf(call).fns.some(fn => fn.body !== undefined && callsDoing(a, 'disconnects-link').some(each => a.program.enclosingFn(each) === fn && isOn(each)));
}

function opensInto(a: Analysis, call: Call, places: ReadonlySet<Decl>): boolean {
  if (!roleOf(a, call)?.does.has('opens-link')) return false;
  for (let node: AnyNode | undefined = a.program.parentOf(call); node; node = a.program.parentOf(node)) {
    if (node.kind === 'Assign') return (node.target.kind === 'Name' || node.target.kind === 'Member') && places.has(a.resolver.declOf(node.target)!);
    if (node.kind === 'ExprStmt' || node.kind === 'Fn') return false;
  }
  return false;
}

/** A way on which something closes, or on which the holder was found to be empty, forgets nothing. */
function stopsFor(a: Analysis, places: ReadonlySet<Decl>) {
  return {
    step: (step: Step): boolean => step.node?.kind === 'Call' && closes(a, step.node),
    edge: (edge: Edge): boolean => saysEmpty(a, edge.when, places) || isRetry(a, edge.when),
  };
}

/** `flow.update { … }` runs again only when another thread was quicker. */
function isRetry(a: Analysis, guard: Guard | undefined): boolean {
  return guard?.is === 'round' && guard.loop.kind === 'Call' && /^(?:update|getAndUpdate|updateAndGet)$/.test(a.calleeName(guard.loop) ?? '');
}

function saysEmpty(a: Analysis, guard: Guard | undefined, places: ReadonlySet<Decl>): boolean {
  const isPlace = (expr: Expr): boolean => originsOf(a, expr).some(o => o.is === 'decl' && places.has(o.decl));
  if (guard?.is === 'null') return guard.holds && isPlace(guard.value);
  if (guard?.is !== 'condition' || guard.test.kind !== 'Binary') return false;
  const { left, right, op } = guard.test;
  if (right.kind !== 'Literal' || right.value !== null) return false;
  return ((op === '==') === guard.holds) && (op === '==' || op === '!=') && isPlace(left);
}

/** Whether the place is reached, and its function left, without closing anything and without finding the holder empty. */
function hasWayPast(a: Analysis, place: Call, places: ReadonlySet<Decl>): boolean {
  const at = a.stepsOf(place);
  if (!at) return false;
  const stops = stopsFor(a, places);
  return at.steps.some(step => isReached(at.graph, step, stops));
}

function isReached(graph: Graph, to: Step, stops: ReturnType<typeof stopsFor>): boolean {
  return wayFrom(graph.entry, step => step === to, stops) !== undefined;
}

/** The platform's scan callbacks, and what is given a lambda in their place. */
const SCAN_CALLBACKS = /^(?:onScanResult|onBatchScanResults|onLeScan|LeScanCallback|startLeScan)$/;

/** Whether state that outlives the function is asked before a place, or the same function stops the scan or closes. */
function isConditional(a: Analysis, place: Call): boolean {
  const at = a.stepsOf(place);
  if (!at) return true;
  const { graph } = at;
  return graph.steps.some(step => step.node?.kind === 'Call' && (roleOf(a, step.node)?.does.has('stops-scan') === true || closes(a, step.node) || stopsScanInside(a, step.node)))
    || graph.steps.some(step => step.next.some(edge => {
      const test = edge.when?.is === 'condition' ? edge.when.test : edge.when?.is === 'null' ? edge.when.value : edge.when?.is === 'match' ? edge.when.subject : undefined;
      return test !== undefined && readsState(a, test);
    }));
}

function stopsScanInside(a: Analysis, call: Call): boolean {
  return a.once<Call, boolean>('stops-scan-inside', call, false, () => a.resolver.calleeOf(call).fns.some(fn => {
    let found = false;
    if (fn.body) {
      a.eachBelow(fn.body, node => {
        if (node.kind === 'Call' && (roleOf(a, node)?.does.has('stops-scan') || stopsScanInside(a, node))) found = true;
        return found ? 'skip' : undefined;
      });
    }
    return found;
  }));
}

/** What is asked of these says nothing about a link: whether there is Bluetooth at all, whether the app may use it. */
const SURROUNDINGS = /^(?:Bluetooth(?:Adapter|Manager|Device|LeScanner)|Context|Activity|string|list|Handler)$/;

/** Whether a condition looks at state that outlives the function: a flag, a link, an enum, a holder of one. */
function readsState(a: Analysis, test: AnyNode, depth = 0): boolean {
  let found = false;
  a.eachBelow(test, node => {
    if (node.kind === 'Name' || node.kind === 'Member') {
      const decl = a.resolver.declOf(node);
      if (decl?.is === 'field' && isState(a, decl)) found = true;
    }
    if (node.kind === 'Call' && depth < 3) found ||= a.resolver.calleeOf(node).fns.some(fn => fn.body !== undefined && readsState(a, fn.body, depth + 1));
    return found ? 'skip' : undefined;
  });
  return found;
}

function isState(a: Analysis, decl: Decl & { readonly is: 'field' }): boolean {
  const type = a.resolver.typeOfDecl(decl)?.name ?? '';
  if (SURROUNDINGS.test(type)) return false;
  return decl.node.mutable || decl.node.getter !== undefined || /^(?:Atomic\w*|set|map|\w*(?:StateFlow|LiveData|State))$/.test(type);
}

// ---- Forgotten ----------------------------------------------------------

export interface Forgetting {
  /** `gatt = null` */
  readonly at: Assign;
  readonly disconnect?: Call;
}

/**
 * A place that empties the holder of a link that is surely open there, after `disconnect()` or in a callback of the link,
 * while nothing on the way closes it and no callback closes the link that it is given.
 */
export function forgettingOf(a: Analysis, holders: readonly Holder[], callbacks: ReadonlySet<Fn>): Forgetting | undefined {
  const places = new Set<Decl>(holders.flatMap(h => (h.is === 'decl' && h.decl.is === 'field' && h.keeps === 'one' ? [h.decl] : [])));
  for (const decl of places) {
    for (const write of a.resolver.writesTo(decl)) {
      if (write.kind !== 'Assign' || write.op !== undefined || write.value.kind !== 'Literal' || write.value.value !== null) continue;
      const found = forgets(a, write, places, callbacks);
      if (found) return found;
    }
  }
  return undefined;
}

function forgets(a: Analysis, write: Assign, places: ReadonlySet<Decl>, callbacks: ReadonlySet<Fn>): Forgetting | undefined {
  const at = a.stepsOf(write);
  const home = a.home(write);
  if (!at || home?.kind !== 'Fn' || closesAround(a, home, 0)) return undefined;
  const disconnect = callsDoing(a, 'disconnects-link').find(call =>
    a.home(call) === home && receiverOrigins(a, call).some(o => o.is === 'decl' && places.has(o.decl)) && isBefore(at.graph, at.steps, a, call));
  if (disconnect) return { at: write, disconnect };
  return callbacks.has(home) ? { at: write } : undefined;
}

function isBefore(graph: Graph, steps: readonly Step[], a: Analysis, call: Call): boolean {
  return a.stepsOf(call)?.graph === graph && graph.stepsOf(call).some(from => wayFrom(from, step => steps.includes(step), {}) !== undefined);
}

/** Whether a function closes anything, or one that calls it does. */
function closesAround(a: Analysis, fn: Fn, depth: number): boolean {
  if (depth > 4 || closesSomewhere(a, fn)) return true;
  const outer = a.program.enclosingFn(fn);
  if (outer && closesAround(a, outer, depth + 1)) return true;
  return callsOf(a, fn).some(call => {
    const home = a.home(call);
    return home?.kind === 'Fn' && home !== fn && closesAround(a, home, depth + 1);
  });
}
