/**
 * Which operations are in flight at each step of a function, and where a second one is started meanwhile. A link has one
 * slot; a started operation holds it until something waits for it. "Certain" means: there is a path through the function,
 * past no wait and past no test of a flag that guards the slot, on which both are started.
 *
 * A function that a queue runs is looked at by itself: whoever hands it to the queue starts nothing.
 */
import type { AnyNode, Block, Call, Expr, Fn } from '../ir/ir.js';
import type { Edge, Graph, Guard, Step } from '../flow/graph.js';
import { solve } from '../flow/solve.js';
import { wayFrom } from '../flow/paths.js';
import type { Analysis } from './analysis.js';
import { saysFree } from './busy-flags.js';
import { boundIn, exclude, heldAt, type Condition } from './conditions.js';
import { matchesOne, refused } from './guards.js';
import { clientOf, isAnotherEachRound, linkOf, relationOf } from './link-of.js';
import { bare, isChain, settledWith } from './promises.js';
import { enqueuedBy } from './queues.js';
import { roleOf } from './roles.js';
import { callsIn, isConnecting, isLaunch, isOperation, leftBy, queuedLambda, startedBy, yieldsPromise, type Started } from './starting.js';
import { gatherer } from './together.js';
import { returnsFrom } from './use.js';
import { isToldEach, waitOf } from './waits.js';

export { callsIn } from './starting.js';

/** An operation that has been started and not been waited for. */
export interface Busy extends Started {
  /** The call in this function that started it: the operation itself, or a call that leads to it. */
  readonly call: Call;
  /** The promise that settles with it, as the expression that yields it; absent on Android. */
  readonly promise?: Expr;
  /** No operation yet: the link is being asked for. */
  readonly connecting?: true;
  /** Started by the project's queue when its turn came. */
  readonly queued?: string;
}

export interface Overlap {
  readonly first: Busy;
  /** The call that starts the second one, in this function or in a lambda that it sets going. */
  readonly call: Call;
  readonly op: Call;
  readonly kind: 'sequence' | 'loop' | 'parallel' | 'connecting' | 'past-queue';
  readonly certain: boolean;
}

export interface Flight {
  readonly overlaps: readonly Overlap[];
  /** Operations that may be started before anything in the function waits. */
  readonly first: readonly Started[];
  /** The calls in the function that start those, in the same order. */
  readonly firstCalls: readonly Call[];
  /** Operations that may still be in flight when the function returns. */
  readonly left: readonly Started[];
}

const NOTHING: Flight = { overlaps: [], first: [], firstCalls: [], left: [] };

/** The flight of a function or top level; nothing for one that is too large or starts nothing. */
export function flightOf(a: Analysis, home: Fn | Block): Flight {
  return a.once<Fn | Block, Flight>('flight', home, NOTHING, () => {
    const graph = startsAnything(a, home) ? a.graph(home) : undefined;
    return graph ? new Analyser(a, graph).run() : NOTHING;
  });
}

/** The cheap question first: no graph is built for a function that calls nothing of interest. */
function startsAnything(a: Analysis, home: Fn | Block): boolean {
  return callsIn(a, home).some(call => isConnecting(a, call) || startedBy(a, call).length > 0 || leftBy(a, call).length > 0
    || asynchronousBodies(a, call).some(lambda => flightOf(a, lambda.fn).first.length > 0));
}

/** Asynchronous lambdas of which an array function starts one for every element. */
function asynchronousBodies(a: Analysis, call: Call): readonly (Expr & { kind: 'Lambda' })[] {
  return call.args.flatMap(({ value }) => (value.kind === 'Lambda' && value.fn.modifiers.has('async') && a.runOf(call, value)?.runs === 'now-many' ? [value] : []));
}

/** What is in flight before a step, by the call that started it. */
type State = ReadonlyMap<Call, Busy>;
const IDLE: State = new Map();

class Analyser {
  private readonly overlaps = new Map<Call, Overlap>();
  private readonly first = new Map<Call, Started>();
  /** Operations that were not waited for, and have been told of. */
  private readonly met = new Set<Call>();

  constructor(private readonly a: Analysis, private readonly graph: Graph) {}

  run(): Flight {
    const before = solve<State>(this.graph, {
      entry: IDLE,
      step: (step, state) => this.after(step, state),
      edge: (edge, state) => this.along(edge, state),
      join: (x, y) => new Map([...x, ...[...y].filter(([call, busy]) => !x.has(call) || (x.get(call)!.unsure && !busy.unsure))]),
      equal: (x, y) => x.size === y.size && [...y].every(([call, busy]) => x.get(call)?.unsure === busy.unsure && x.get(call)?.promise === busy.promise),
    });
    if (!before) {
      this.a.capped.add(this.graph.of);
      return NOTHING;
    }
    const inOrder = [...before].sort(([x], [y]) => (x.node?.span.start ?? 0) - (y.node?.span.start ?? 0));
    for (const [step, state] of inOrder) this.observe(step, state);
    this.findFirst();
    const end = before.get(this.graph.exit) ?? IDLE;
    const left = [...end.values()].filter(busy => busy.queued === undefined && !busy.connecting);
    return {
      overlaps: [...this.overlaps.values()], first: [...this.first.values()].slice(0, 8), firstCalls: [...this.first.keys()].slice(0, 8),
      left: left.map(busy => this.summed(busy, busy.call)).slice(0, 8),
    };
  }

  // ---- Transfer -----------------------------------------------------------

  private after(step: Step, state: State): State {
    const { node } = step;
    if (node?.kind === 'Await') return this.awaited(node.value, state);
    if (node?.kind === 'Emit') return IDLE;
    if (node?.kind === 'Return' && node.value && state.size > 0 && returnsFrom(this.a, node) === this.graph.of) return this.handedOn(node.value, state);
    return node?.kind === 'Call' && !this.isElsewhere(node) ? this.called(node, state) : state;
  }

  /** In a lambda that a queue runs: not started here. */
  private isElsewhere(call: Call): boolean {
    return queuedLambda(this.a, call, this.graph.of) !== undefined;
  }

  private called(call: Call, before: State): State {
    const role = roleOf(this.a, call);
    // What is under way on the link before ends with it.
    const state = role?.does.has('opens-link') ? IDLE : before;
    if (role?.does.has('closes-link') || role?.does.has('disconnects-link')) return IDLE;
    if (isConnecting(this.a, call)) return busyWith(state, { op: call, call, link: role!.does.has('opens-link') ? clientOf(this.a, call) : linkOf(this.a, call), when: [], unsure: false, connecting: true });
    if (!role && isChain(call)) return chained(call, state);
    if (yieldsPromise(this.a, call)) {
      const [started] = startedBy(this.a, call);
      return started ? busyWith(state, { ...started, call, promise: call }) : state;
    }
    if (isOperation(this.a, call)) return busyWith(state, { ...startedBy(this.a, call)[0]!, call });
    const rest = this.waited(call, state);
    const enqueued = enqueuedBy(this.a, call);
    if (enqueued) return busyWith(rest, { ...enqueued.started, call, queued: enqueued.queue });
    const [started] = isLaunch(this.a, call) ? startedBy(this.a, call) : leftBy(this.a, call);
    return started ? busyWith(rest, { ...started, call }) : rest;
  }

  private waited(call: Call, state: State): State {
    if (state.size === 0) return state;
    switch (waitOf(this.a, call)) {
      case 'waits': return IDLE;
      case 'sleeps': return unsure(state);
      case 'no': return this.settled(call, state);
    }
  }

  /** `coroutineScope { }` returns when all that was launched in it has ended; `new Promise(…)` stands for what its lambda started. */
  private settled(call: Call, state: State): State {
    const inside = [...state.values()].filter(busy => busy.call !== call && within(busy.call, call));
    if (inside.length === 0) return state;
    const waits = call.args.map(({ value }) => (value.kind === 'Lambda' ? this.a.runOf(call, value)?.runner?.waits : undefined));
    if (waits.includes('completion')) return without(state, busy => inside.includes(busy) && isLaunch(this.a, busy.call));
    if (!waits.includes('resume') || !call.construct) return state;
    return new Map([...state].map(([key, busy]) => [key, inside.includes(busy) && busy.promise ? { ...busy, promise: call } : busy]));
  }

  private awaited(value: Expr, state: State): State {
    const settled = settledWith(this.a, value);
    // What was not waited for may have ended meanwhile.
    let rest = unsure(without(state, busy => busy.promise !== undefined && settled.has(busy.promise)));
    // A function that has been waited for may have left an operation behind that it did not wait for itself.
    for (const expr of settled) {
      const [left] = expr.kind === 'Call' && !isOperation(this.a, expr) ? leftBy(this.a, expr) : [];
      if (left && expr.kind === 'Call') rest = busyWith(rest, { ...left, call: expr });
    }
    return rest;
  }

  /** A promise that is returned is the caller's to wait for; whoever waits for another one may wait for this operation by it. */
  private handedOn(value: Expr, state: State): State {
    const settled = settledWith(this.a, value);
    const rest = without(state, busy => busy.promise !== undefined && settled.has(busy.promise));
    return this.a.resolver.typeOf(value)?.name === 'Promise' ? unsure(rest) : rest;
  }

  private along(edge: Edge, state: State): State | undefined {
    const { when, from } = edge;
    if (!when || state.size === 0) return state;
    // What threw was not started.
    if (when.is === 'exception') return from.node?.kind === 'Call' ? without(state, busy => busy.call === from.node) : state;
    if (saysFree(this.a, when) || this.isTold(when)) return IDLE;
    const isRefused = refused(this.a, when);
    return without(state, busy => isRefused(busy.call) || (busy.connecting === true && asksAnything(when)));
  }

  /** The next round comes when somebody sends something: an event of its own. */
  private isTold(guard: Guard): boolean {
    return guard.is === 'round' && isToldEach(this.a, guard.loop);
  }

  // ---- What the solution shows --------------------------------------------

  private observe(step: Step, state: State): void {
    const call = step.node;
    if (call?.kind !== 'Call' || this.isElsewhere(call) || roleOf(this.a, call)?.does.has('opens-link')) return;
    for (const started of startedBy(this.a, call)) for (const first of state.values()) this.check(step, call, started, first);
    const enqueued = enqueuedBy(this.a, call);
    if (enqueued) for (const first of state.values()) this.passed(first, enqueued.queue);
    this.several(call);
  }

  private check(step: Step, call: Call, second: Started, first: Busy): void {
    const place = second.at ?? call;
    const known = this.overlaps.get(place);
    // Of two objects that each stand for a link nothing says that it is the same one.
    if (known?.certain || relationOf(this.a, first.link, second.link) !== 'one') return;
    const found = this.judge(step, call, second, first);
    if (!found) return;
    const certain = found.certain && !first.unsure && !second.unsure && !isServed(this.a, second.op);
    // One that was not waited for is met by everything after it; it is told of once.
    if (certain && this.met.has(first.call) && first.promise !== undefined) return;
    if (certain) this.met.add(first.call);
    if (!known || certain) this.overlaps.set(place, { ...found, call: place, certain });
  }

  private judge(step: Step, call: Call, second: Started, first: Busy): Overlap | undefined {
    const base = { first, call, op: second.op };
    const loop = this.loopAround(first.call, call);
    if (loop && first.call.span.start >= call.span.start) return this.inLoop(loop, step, base, second);
    if (exclude(this.heldBy(first, loop), this.heldNow(step, second))) return undefined;
    if (first.connecting) return { ...base, kind: 'connecting', certain: true };
    if (first.queued !== undefined) return { ...base, kind: 'past-queue', certain: true };
    return { ...base, kind: this.areGathered(first.call, call) ? 'parallel' : 'sequence', certain: true };
  }

  private heldNow(step: Step, started: Started): readonly Condition[] {
    return [...heldAt(this.a, this.graph, step), ...started.when];
  }

  /** What holds where something was started; what a loop around both binds may be another thing by now. */
  private heldBy(busy: Busy, loop: AnyNode | undefined): readonly Condition[] {
    const held = [...this.graph.stepsOf(busy.call).flatMap(step => heldAt(this.a, this.graph, step)), ...busy.when];
    return loop ? held.filter(condition => !boundIn(condition.root, loop)) : held;
  }

  /** The second start comes round a loop: it may be the same step for another element, or for none. */
  private inLoop(loop: AnyNode, step: Step, base: Omit<Overlap, 'kind' | 'certain'>, second: Started): Overlap | undefined {
    const { first } = base;
    if (first.connecting || first.queued !== undefined) return undefined;
    if (isAnotherEachRound(this.a, second.link, loop) || exclude(this.heldBy(first, loop), this.heldNow(step, second))) return undefined;
    // What comes later in the text is reported; that it may also come in an earlier round adds nothing.
    if (this.onlyOnce(loop, step)) return undefined;
    return { ...base, kind: this.areGathered(first.call, base.call) ? 'parallel' : 'loop', certain: true };
  }

  private areGathered(x: Call, y: Call): boolean {
    const gathering = gatherer(this.a, x);
    return gathering !== undefined && gathering === gatherer(this.a, y);
  }

  /** Whether every way from the loop's head to the step passes a test that one element at most can meet. */
  private onlyOnce(loop: AnyNode, step: Step): boolean {
    const heads = loop.kind === 'Loop' || loop.kind === 'Lambda' ? this.graph.stepsOf(loop) : [];
    const gate = (edge: Edge): boolean => edge.when !== undefined && matchesOne(this.a, edge.when);
    return heads.length > 0 && heads.every(head => wayFrom(head, other => other === step, { edge: gate, step: other => other === head }) === undefined);
  }

  private loopAround(x: Call, y: Call): AnyNode | undefined {
    for (let node = this.a.program.parentOf(x); node; node = this.a.program.parentOf(node)) {
      const repeats = node.kind === 'Loop' || (node.kind === 'Lambda' && this.repeats(node));
      if (repeats && within(y, node)) return node;
      if (node.kind === 'Fn' && !this.a.isInlined(node)) return undefined;
    }
    return undefined;
  }

  private repeats(lambda: Expr & { kind: 'Lambda' }): boolean {
    return this.a.isInlined(lambda.fn) && this.graph.stepsOf(lambda).some(step => step.next.some(edge => edge.when?.is === 'round'));
  }

  /** A direct start, and then one that goes through the queue: the direct one is what bypasses. */
  private passed(first: Busy, queue: string): void {
    if (first.queued !== undefined || first.connecting || first.unsure || this.overlaps.has(first.call)) return;
    this.overlaps.set(first.call, { first: { ...first, queued: queue }, call: first.call, op: first.op, kind: 'past-queue', certain: true });
  }

  /** `list.forEach(async x => { await op(x) })` starts one for every element. */
  private several(call: Call): void {
    for (const lambda of asynchronousBodies(this.a, call)) {
      const { first: [started], firstCalls: [at] } = flightOf(this.a, lambda.fn);
      const place = gatherer(this.a, call) ?? at;
      if (!started || !at || !place || isAnotherEachRound(this.a, started.link, lambda) || this.overlaps.has(place)) continue;
      this.overlaps.set(place, { first: { ...started, call: at, promise: call }, call: place, op: started.op, kind: 'parallel', certain: !started.unsure });
    }
  }

  // ---- The summary --------------------------------------------------------

  /** Operations that a caller's own operation in flight would meet. */
  private findFirst(): void {
    const slept = new Map<Step, boolean>([[this.graph.entry, false]]);
    const waiting = [this.graph.entry];
    for (let step = waiting.pop(); step; step = waiting.pop()) {
      const sleepy = this.passing(step, slept.get(step)!);
      if (sleepy === undefined) continue;
      for (const edge of step.next) {
        if (edge.when && (saysFree(this.a, edge.when) || this.isTold(edge.when))) continue;
        if (slept.has(edge.to) && (sleepy || !slept.get(edge.to))) continue;
        slept.set(edge.to, sleepy);
        waiting.push(edge.to);
      }
    }
  }

  /** Notes what a step starts; whether time has passed after it, or undefined when it waits. */
  private passing({ node }: Step, slept: boolean): boolean | undefined {
    if (node?.kind === 'Await' || node?.kind === 'Emit') return undefined;
    if (node?.kind !== 'Call' || this.isElsewhere(node)) return slept;
    for (const started of startedBy(this.a, node)) {
      const known = this.first.get(node);
      if (!known || (known.unsure && !started.unsure && !slept)) this.first.set(node, this.summed(slept ? { ...started, unsure: true } : started, node));
    }
    const wait = waitOf(this.a, node);
    return wait === 'waits' ? undefined : slept || wait === 'sleeps';
  }

  private summed({ op, link, when, unsure: isUnsure, at }: Started, call: Call): Started {
    return { op, link, unsure: isUnsure, ...(at && { at }), when: [...when, ...this.graph.stepsOf(call).slice(0, 1).flatMap(step => heldAt(this.a, this.graph, step))] };
  }
}

function busyWith(state: State, busy: Busy): State {
  return new Map(state).set(busy.call, busy);
}

/** `op().then(…)`: what settles with the operation is now the chain. */
function chained(call: Call, state: State): State {
  const object = call.callee.kind === 'Member' ? bare(call.callee.object) : undefined;
  return new Map([...state].map(([key, busy]) => [key, busy.promise !== undefined && busy.promise === object ? { ...busy, promise: call } : busy]));
}

function unsure(state: State): State {
  return state.size === 0 ? state : new Map([...state].map(([key, busy]) => [key, busy.unsure ? busy : { ...busy, unsure: true }]));
}

function without(state: State, gone: (busy: Busy) => boolean): State {
  const kept = [...state].filter(([, busy]) => !gone(busy));
  return kept.length === state.size ? state : new Map(kept);
}

/** While a link is being asked for, any test may be of whether it is there; only a null test of an object is none. */
function asksAnything(guard: Guard): boolean {
  if (guard.is !== 'condition') return guard.is === 'match';
  const { test } = guard;
  return !(test.kind === 'Binary' && [test.left, test.right].some(side => side.kind === 'Literal' && side.value === null));
}

/** A server may tell several devices, and one device after the other: what the stack holds back of it is not known here. */
function isServed(a: Analysis, op: Call): boolean {
  return roleOf(a, op)?.owner === 'BluetoothGattServer';
}

function within(inner: AnyNode, outer: AnyNode): boolean {
  return outer.span.start <= inner.span.start && inner.span.end <= outer.span.end;
}
