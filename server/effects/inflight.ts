/**
 * Which operations are in flight at each step of a function, and where a second one is started meanwhile. A link has one
 * slot; a started operation holds it until something waits for it. "Provable" means: there is a path through the
 * function, past no wait and past no test of a flag that might guard the slot, on which both are started.
 */
import type { AnyNode, Block, Call, Expr, Fn } from '../ir/ir.js';
import type { Edge, Graph, Step } from '../flow/graph.js';
import { solve } from '../flow/solve.js';
import { unguarded } from '../flow/paths.js';
import type { Analysis } from './analysis.js';
import { queueOf } from './queues.js';
import { roleOf } from './roles.js';
import { guardsSlot, acceptFailed, matchesOne } from './guards.js';
import { linkOf, mayShareLink } from './link-of.js';
import { waitOf, waitIn } from './waits.js';

/** An operation that has been started and not been waited for. */
export interface Busy {
  /** The call in this function that started it: the operation itself, or a function that starts it. */
  readonly call: Call;
  /** The operation. */
  readonly op: Call;
  /** The promise that settles with it, as the expression that yields it; absent on Android. */
  readonly promise?: Expr;
  /** Time has passed since, so that overlap is only possible. */
  readonly paced: boolean;
}

export interface Overlap {
  readonly first: Busy;
  /** The call in this function that starts the second one. */
  readonly call: Call;
  readonly op: Call;
  readonly kind: 'sequence' | 'loop' | 'parallel';
  readonly certain: boolean;
}

export interface Flight {
  readonly overlaps: readonly Overlap[];
  /** Operations that may be started before anything in the function waits. */
  readonly first: readonly Call[];
  /** Operations that may still be in flight when the function returns. */
  readonly left: readonly Call[];
}

const NOTHING: Flight = { overlaps: [], first: [], left: [] };

/** The flight of a function or top level; nothing for one that is too large or that a queue runs. */
export function flightOf(a: Analysis, home: Fn | Block): Flight {
  return a.once<Fn | Block, Flight>('flight', home, NOTHING, () => {
    const graph = startsAnything(a, home) ? a.graph(home) : undefined;
    return graph ? new Analyser(a, graph).run() : NOTHING;
  });
}

/** The cheap question first: no graph is built for a function that calls nothing of interest. */
function startsAnything(a: Analysis, home: Fn | Block): boolean {
  return callsIn(a, home).some(call => isOperation(a, call) || starts(a, call).length > 0);
}

/** Calls that a function evaluates itself, inlined lambdas included. */
export function callsIn(a: Analysis, home: Fn | Block): readonly Call[] {
  return a.once<Fn | Block, readonly Call[]>('calls-in', home, [], () => {
    const found: Call[] = [];
    collect(a, home.kind === 'Fn' ? home.body : home, found);
    return found;
  });
}

function collect(a: Analysis, root: AnyNode | undefined, found: Call[]): void {
  if (!root) return;
  a.eachBelow(root, node => {
    if (node.kind === 'Call') found.push(node);
    return node.kind === 'Fn' && !a.isInlined(node) ? 'skip' : undefined;
  });
}

export function isOperation(a: Analysis, call: Call): boolean {
  const role = roleOf(a, call);
  return role !== undefined && role.does.has('starts-operation') && role.slot !== 'none';
}

/** The functions of the project whose operations a call starts now; none for what goes through a queue. */
function targets(a: Analysis, call: Call): readonly Fn[] {
  const callee = a.resolver.calleeOf(call);
  return callee.complete ? callee.fns.filter(fn => fn.body && queueOf(a, fn) === undefined && !fn.modifiers.has('generator')) : [];
}

function starts(a: Analysis, call: Call): readonly Call[] {
  return a.once<Call, readonly Call[]>('starts', call, [], () => targets(a, call).flatMap(fn => flightOf(a, fn).first).slice(0, 4));
}

/** What is in flight before a step, by the call that started it. */
type State = ReadonlyMap<Call, Busy>;
const IDLE: State = new Map();

class Analyser {
  private readonly overlaps = new Map<Call, Overlap>();
  private readonly first = new Set<Call>();

  constructor(private readonly a: Analysis, private readonly graph: Graph) {}

  run(): Flight {
    const before = solve<State>(this.graph, {
      entry: IDLE,
      step: (step, state) => this.after(step, state),
      edge: (edge, state) => this.along(edge, state),
      join: (x, y) => new Map([...x, ...[...y].filter(([call, busy]) => !x.has(call) || x.get(call)!.paced && !busy.paced)]),
      equal: (x, y) => x.size === y.size && [...y].every(([call, busy]) => x.get(call)?.paced === busy.paced && x.get(call)?.promise === busy.promise),
    });
    if (!before) {
      this.a.capped.add(this.graph.of);
      return NOTHING;
    }
    for (const [step, state] of before) this.observe(step, state);
    this.findFirst();
    const left = [...(before.get(this.graph.exit) ?? IDLE).values()].filter(busy => !busy.paced && !this.isHandedOn(busy));
    return { overlaps: [...this.overlaps.values()], first: [...this.first].slice(0, 8), left: left.map(busy => busy.op).slice(0, 8) };
  }

  // ---- Transfer -----------------------------------------------------------

  private after(step: Step, state: State): State {
    const { node } = step;
    if (!node) return state;
    if (node.kind === 'Await') return this.awaited(node.value, state);
    if (node.kind === 'Emit') return IDLE;
    if (node.kind !== 'Call') return state;
    return this.called(node, state);
  }

  private called(call: Call, state: State): State {
    const role = roleOf(this.a, call);
    if (role?.does.has('closes-link') || role?.does.has('disconnects-link')) return IDLE;
    if (isOperation(this.a, call)) return this.busy(state, call, call, role!.answer === 'promise');
    const rekeyed = this.chained(call, state);
    if (rekeyed) return rekeyed;
    const fns = targets(this.a, call);
    const asynchronous = fns.some(fn => fn.modifiers.has('async'));
    const wait = asynchronous ? 'no' : waitOf(this.a, call);
    let next = wait === 'waits' ? IDLE : wait === 'sleeps' ? paced(state) : state;
    if (asynchronous) {
      const [op] = starts(this.a, call);
      if (op) next = this.busy(next, call, op, true);
      return next;
    }
    const left = fns.flatMap(fn => flightOf(this.a, fn).left);
    const promise = fns.some(fn => this.a.resolver.resultOf(fn)?.name === 'Promise');
    return left[0] ? this.busy(next, call, left[0], promise) : next;
  }

  private busy(state: State, call: Call, op: Call, promise: boolean): State {
    return new Map(state).set(call, { call, op, paced: false, ...(promise && { promise: call }) });
  }

  /** `op().then(…)`: what settles with the operation is now the chain. */
  private chained(call: Call, state: State): State | undefined {
    if (call.callee.kind !== 'Member' || !['then', 'catch', 'finally'].includes(call.callee.name)) return undefined;
    const object = call.callee.object;
    const found = [...state.values()].filter(busy => busy.promise !== undefined && busy.promise === object);
    if (found.length === 0) return undefined;
    return new Map([...state].map(([key, busy]) => [key, found.includes(busy) ? { ...busy, promise: call } : busy]));
  }

  private awaited(value: Expr, state: State): State {
    const settled = this.promisesOf(value);
    const rest = [...state].filter(([, busy]) => busy.promise === undefined || !settled.has(busy.promise));
    if (rest.length < state.size) return new Map(rest);
    // Something else was awaited: it may have waited for the operation in its own way.
    const known = value.kind === 'Call' && (isOperation(this.a, value) || starts(this.a, value).length > 0);
    return known ? state : paced(state);
  }

  /** The promises that an awaited expression waits for: itself, a local's value, the members of Promise.all and friends. */
  private promisesOf(value: Expr, depth = 0): Set<Expr> {
    const found = new Set<Expr>([value]);
    if (depth > 5) return found;
    const more = (exprs: readonly Expr[]) => exprs.forEach(e => this.promisesOf(e, depth + 1).forEach(p => found.add(p)));
    if (value.kind === 'Name') {
      const decl = this.a.resolver.declOf(value);
      if (decl?.is === 'local') {
        more(this.a.resolver.writesTo(decl).flatMap(write => (write.value ? [write.value] : [])));
        more(this.a.resolver.readsOf(decl).flatMap(read => pushed(this.a, read)));
      }
    }
    if (value.kind === 'Call') more(value.args.map(arg => arg.value));
    if (value.kind === 'Call' && value.callee.kind === 'Member' && ['then', 'catch', 'finally'].includes(value.callee.name)) more([value.callee.object]);
    if (value.kind === 'ListExpr') more(value.items);
    if (value.kind === 'Choose' || value.kind === 'Cast' || value.kind === 'Unary') this.a.eachBelow(value, node => { if (node.kind === 'Call') found.add(node); return undefined; });
    return found;
  }

  private along(edge: Edge, state: State): State | undefined {
    const guard = edge.when;
    if (!guard || state.size === 0) return state;
    const failed = acceptFailed(this.a, guard);
    const kept = failed ? new Map([...state].filter(([call]) => call !== failed)) : state;
    return guardsSlot(this.a, guard) ? IDLE : kept;
  }

  // ---- What the solution shows --------------------------------------------

  private observe(step: Step, state: State): void {
    const call = step.node;
    if (call?.kind !== 'Call') return;
    const ops = isOperation(this.a, call) ? [call] : starts(this.a, call);
    for (const op of ops) this.check(step, call, op, state);
    this.several(call);
  }

  private check(step: Step, call: Call, op: Call, state: State): void {
    for (const first of state.values()) {
      if (this.overlaps.has(call)) return;
      if (!mayShareLink(this.a, linkOf(this.a, first.op), linkOf(this.a, op))) continue;
      const again = this.loopAround(first.call, call);
      if (again && first.call.span.start >= call.span.start) {
        const verdict = this.inLoop(again, step, first, call, op);
        if (verdict) this.overlaps.set(call, verdict);
        continue;
      }
      const kind = this.gathered(first, call) ? 'parallel' : 'sequence';
      this.overlaps.set(call, { first, call, op, kind, certain: !first.paced });
    }
  }

  /** The second start comes round a loop: it may be the same step for another element, or for none. */
  private inLoop(loop: AnyNode, step: Step, first: Busy, call: Call, op: Call): Overlap | undefined {
    if (linkOf(this.a, op).madeWithin(loop)) return undefined;
    const once = this.onlyOnce(loop, step);
    if (once && first.call === call) return undefined;
    const kind = this.gathered(first, call) ? 'parallel' : 'loop';
    return { first, call, op, kind, certain: !first.paced && !once };
  }

  /** Whether every way from the loop's head to the step passes a test that one element at most can meet. */
  private onlyOnce(loop: AnyNode, step: Step): boolean {
    const heads = this.graph.steps.filter(s => s.node === loop || (s.node?.kind === 'Lambda' && s.node === loop));
    const gate = (edge: Edge): boolean => edge.when !== undefined && matchesOne(this.a, edge.when);
    return heads.length > 0 && unguarded(this.graph, step, { edge: gate }) === undefined;
  }

  private loopAround(x: Call, y: Call): AnyNode | undefined {
    for (let node = this.a.program.parentOf(x); node; node = this.a.program.parentOf(node)) {
      if (node.kind === 'Loop' || (node.kind === 'Lambda' && this.a.isInlined(node.fn))) {
        if (within(y, node) && (node.kind === 'Loop' || this.repeats(node))) return node;
      }
      if (node.kind === 'Fn' && !this.a.isInlined(node)) return undefined;
    }
    return undefined;
  }

  private repeats(lambda: Expr & { kind: 'Lambda' }): boolean {
    return this.graph.stepsOf(lambda).some(step => step.next.some(edge => edge.when?.is === 'round'));
  }

  /** Both promises end up in one `Promise.all`. */
  private gathered(first: Busy, call: Call): boolean {
    return gatherer(this.a, first.call) !== undefined && gatherer(this.a, first.call) === gatherer(this.a, call);
  }

  /** `list.forEach(async x => { await op(x) })` starts one for every element. */
  private several(call: Call): void {
    for (const { value } of call.args) {
      if (value.kind !== 'Lambda' || !value.fn.modifiers.has('async') || this.overlaps.has(call)) continue;
      const run = this.a.runOf(call, value);
      if (run?.runs !== 'now-many') continue;
      const [op] = flightOf(this.a, value.fn).first;
      if (!op || linkOf(this.a, op).madeWithin(value)) continue;
      const busy: Busy = { call, op, paced: false, promise: call };
      this.overlaps.set(call, { first: busy, call, op, kind: 'parallel', certain: true });
    }
  }

  /** Operations that a caller's own operation in flight would meet. */
  private findFirst(): void {
    const reached = new Set<Step>([this.graph.entry]);
    for (const step of reached) {
      const call = step.node;
      if (call?.kind === 'Call') {
        if (isOperation(this.a, call)) this.first.add(call);
        else starts(this.a, call).forEach(op => this.first.add(op));
        if (waitOf(this.a, call) !== 'no' && !targets(this.a, call).length) continue;
      }
      if (step.node?.kind === 'Await' && !this.first.size && waitsForUnknown(this.a, step.node.value)) continue;
      for (const edge of step.next) if (!edge.when || !guardsSlot(this.a, edge.when)) reached.add(edge.to);
    }
  }

  /** A promise that the function returns, or keeps, is its caller's to wait for. */
  private isHandedOn(busy: Busy): boolean {
    if (busy.promise === undefined) return false;
    const parent = this.a.program.parentOf(busy.promise);
    return parent?.kind === 'Return' && !(this.graph.of.kind === 'Fn' && !this.graph.of.modifiers.has('async'));
  }
}

function paced(state: State): State {
  return state.size === 0 ? state : new Map([...state].map(([key, busy]) => [key, { ...busy, paced: true }]));
}

function within(inner: AnyNode, outer: AnyNode): boolean {
  return outer.span.start <= inner.span.start && inner.span.end <= outer.span.end;
}

/** `promises.push(op())`: what was pushed to a list that is read here. */
function pushed(a: Analysis, read: Expr): readonly Expr[] {
  const member = a.program.parentOf(read);
  const call = member?.kind === 'Member' && member.object === read && member.name === 'push' ? a.program.parentOf(member) : undefined;
  return call?.kind === 'Call' ? call.args.map(arg => arg.value) : [];
}

/** The `Promise.all` (or sibling) that gathers a call's promise: as its argument, through an array callback or a list. */
export function gatherer(a: Analysis, call: Expr, depth = 0): Call | undefined {
  for (let node = a.program.parentOf(call), below: AnyNode = call; node && depth < 6; below = node, node = a.program.parentOf(node)) {
    if (node.kind === 'Call') {
      if (node.callee.kind === 'Member' && node.callee.object.kind === 'Name' && node.callee.object.name === 'Promise' && node.callee !== below) return node;
      if (node.callee.kind === 'Member' && node.callee.name === 'push' && node.callee.object.kind === 'Name') {
        const decl = a.resolver.declOf(node.callee.object);
        for (const read of decl?.is === 'local' ? a.resolver.readsOf(decl) : []) {
          const found = read !== node.callee.object && read.span.start > node.span.start ? gatherer(a, read, depth + 1) : undefined;
          if (found) return found;
        }
        return undefined;
      }
    }
    if (node.kind === 'Let') {
      const decl = a.resolver.declFor(node, node.bindings[0]);
      for (const read of decl?.is === 'local' ? a.resolver.readsOf(decl) : []) {
        const found = gatherer(a, read, depth + 1);
        if (found) return found;
      }
      return undefined;
    }
    if (node.kind === 'ExprStmt' || node.kind === 'Block' || node.kind === 'Await') return undefined;
    if (node.kind === 'Fn' && node.modifiers.has('async') && a.program.parentOf(node)?.kind !== 'Lambda') return undefined;
  }
  return undefined;
}

function waitsForUnknown(a: Analysis, value: Expr): boolean {
  return value.kind === 'Call' && a.resolver.calleeOf(value).fns.some(fn => waitIn(a, fn) === 'waits');
}
