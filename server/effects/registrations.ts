/**
 * How many notification registrations one link asks for: the least that every way to a place has made, and the most that
 * any may have. The same characteristic twice takes one place, so what is counted is what is subscribed, not the calls; a
 * loop counts when what it goes over is known. A way is one on which things work: look-ups find what the code looks for, and
 * what is started is accepted.
 *
 * The platform keeps registrations per GATT client object, keyed by address and handle: AOSP BTA_GATTC_NOTIF_REG_MAX,
 * bta/gatt/bta_gattc_int.h, tBTA_GATTC_RCB.
 */
import type { AnyNode, Block, Call, Expr, File, Fn, Param, Stmt } from '../ir/ir.js';
import type { Edge, Step } from '../flow/graph.js';
import { wayFrom } from '../flow/paths.js';
import { solve } from '../flow/solve.js';
import type { Analysis } from './analysis.js';
import { queueOf } from './queues.js';
import { argumentAt, roleOf } from './roles.js';
import { inRound, partOf, roundsOf, type Rounds } from './rounds.js';
import { callsIn } from './starting.js';
import { isBeside } from './working-ways.js';
import { atCall, keyOf, linkThing, ownerThing, subjectOf, type Thing } from './subjects.js';

/** The call at which the count passes a limit. */
export interface Passing {
  readonly at: Call;
  /** Distinct registrations after it, on every way. */
  readonly least: number;
  /** On any way; Infinity when nothing bounds it. */
  readonly most: number;
  /** The calls in the same function that make them, in the order of the text, with the number that each has made by then. */
  readonly made: readonly { readonly call: Call; readonly count: number }[];
}

/** One registration: what, on which link, made by which call of the function that is looked at. */
interface Registration { readonly what: Thing; readonly link: Thing | undefined; readonly by: Call }

interface Count {
  /** By key, what every way has registered. */
  readonly sure: ReadonlyMap<string, Registration>;
  readonly most: number;
  /** What may be given back on the way; `all` when nobody can say what, or the link is. */
  readonly frees: ReadonlyMap<string, Registration> | 'all';
  /** Registered or given back, as a parameter says. */
  readonly either: readonly { readonly flag: Param; readonly registration: Registration }[];
}

const NONE: Count = { sure: new Map(), most: 0, frees: new Map(), either: [] };

/** The places of a file at which a function passes the limit; where a function that it calls does by itself, only there. */
export function passingIn(a: Analysis, file: File, limit: number): readonly Passing[] {
  const homes: (Fn | Block)[] = [file.body];
  a.eachBelow(file, node => {
    if (node.kind === 'Fn' && !a.isInlined(node)) homes.push(node);
    return undefined;
  });
  return homes.flatMap(home => passing(a, home, limit) ?? []);
}

/** The most that any function of a file may register; Infinity when nothing bounds it. */
export function mostIn(a: Analysis, file: File): number {
  let most = countOf(a, file.body).most;
  a.eachBelow(file, node => {
    if (node.kind === 'Fn' && !a.isInlined(node)) most = Math.max(most, countOf(a, node).most);
    return undefined;
  });
  return most;
}

function passing(a: Analysis, home: Fn | Block, limit: number): Passing | undefined {
  let found: Passing | undefined;
  for (const [step, count] of before(a, home) ?? []) {
    const call = step.node;
    if (call?.kind !== 'Call' || (found && found.at.span.start <= call.span.start)) continue;
    const after = plus(count, made(a, home, call));
    const group = largest(after);
    if (largest(count).length > limit || group.length <= limit || passesAlone(a, call, limit)) continue;
    const calls = [...new Set(group.map(r => r.by))].sort((x, y) => x.span.start - y.span.start);
    found = { at: call, least: group.length, most: after.most, made: calls.map(by => ({ call: by, count: group.filter(r => r.by === by).length })) };
  }
  return found;
}

function passesAlone(a: Analysis, call: Call, limit: number): boolean {
  return a.resolver.calleeOf(call).fns.some(fn => largest(countOf(a, fn)).length > limit)
    || call.args.some(({ value }) => value.kind === 'Lambda' && !a.isInlined(value.fn) && largest(countOf(a, value.fn)).length > limit);
}

/** The registrations of the link that has most. */
function largest({ sure }: Count): readonly Registration[] {
  const groups = new Map<string, Registration[]>();
  for (const registration of sure.values()) {
    const key = registration.link ? keyOf(registration.link) : '';
    const group = groups.get(key);
    if (group) group.push(registration);
    else groups.set(key, [registration]);
  }
  return [...groups.values()].reduce((most, group) => (group.length > most.length ? group : most), [] as Registration[]);
}

// ---- Along the ways -----------------------------------------------------

/** What one call of a function registers. */
function countOf(a: Analysis, home: Fn | Block): Count {
  return a.once<Fn | Block, Count>('registrations', home, NONE, () => {
    const states = before(a, home);
    const graph = states && a.graph(home);
    return (graph && states.get(graph.exit)) ?? NONE;
  });
}

/** The count before a step; at a loop's head, apart, the one with which a round ends. */
interface State { readonly fresh?: Count; readonly again?: Count }

function before(a: Analysis, home: Fn | Block): ReadonlyMap<Step, Count> | undefined {
  return a.once<Fn | Block, ReadonlyMap<Step, Count> | undefined>('registrations-before', home, undefined, () => {
    const graph = callsIn(a, home).some(call => touches(perRound(a, call))) ? a.graph(home) : undefined;
    const states = graph && solve<State>(graph, {
      entry: { fresh: NONE },
      step: (step, state) => (step.node?.kind === 'Call' && state.fresh ? { ...state, fresh: plus(state.fresh, made(a, home, step.node)) } : state),
      edge: (edge, state) => (isBeside(a, edge) ? undefined : around(a, edge, state)),
      join: joined,
      equal: (x, y) => same(x.fresh, y.fresh) && same(x.again, y.again),
    });
    return states && new Map([...states].flatMap(([step, { fresh }]) => (fresh ? [[step, fresh] as const] : [])));
  });
}

function touches(count: Count): boolean {
  return count.most > 0 || count.frees === 'all' || count.frees.size > 0 || count.either.length > 0;
}

/** Rounds are multiplied in, so a round runs once; a loop whose rounds are known is not left before the first. */
function around(a: Analysis, edge: Edge, { fresh, again }: State): State | undefined {
  const isBack = (edge.to.node?.kind === 'Loop' || edge.to.node?.kind === 'Lambda') && edge.from.id > edge.to.id;
  const on = edge.when?.is === 'round' && !edge.when.holds ? leaving(a, edge, fresh, again) : fresh;
  return on && (isBack ? { again: on } : { fresh: on });
}

function leaving(a: Analysis, edge: Edge, fresh: Count | undefined, again: Count | undefined): Count | undefined {
  const node = edge.when?.is === 'round' && edge.when.loop.kind === 'Loop' ? edge.when.loop : edge.from.node;
  return node && roundsOf(a, node)?.each?.length ? again : either(fresh, again);
}

function either(x: Count | undefined, y: Count | undefined): Count | undefined {
  if (!x || !y) return x ?? y;
  return {
    sure: new Map([...x.sure].filter(([key]) => y.sure.has(key))), most: Math.max(x.most, y.most), frees: freed(x, y),
    either: [...x.either, ...y.either.filter(e => !x.either.includes(e))],
  };
}

function joined(x: State, y: State): State {
  const [fresh, again] = [either(x.fresh, y.fresh), either(x.again, y.again)];
  return { ...(fresh && { fresh }), ...(again && { again }) };
}

function freed(x: Count, y: Count): Count['frees'] {
  return x.frees === 'all' || y.frees === 'all' ? 'all' : new Map([...x.frees, ...y.frees]);
}

function same(x: Count | undefined, y: Count | undefined): boolean {
  if (!x || !y) return x === y;
  const size = (frees: Count['frees']) => (frees === 'all' ? -1 : frees.size);
  return x.most === y.most && x.sure.size === y.sure.size && size(x.frees) === size(y.frees) && x.either.length === y.either.length;
}

/** The second after the first. */
function plus(x: Count, y: Count): Count {
  if (!touches(y)) return x;
  const { frees } = y;
  const kept = frees === 'all' ? [] : [...x.sure].filter(([key]) => !frees.has(key));
  return { sure: new Map([...kept, ...y.sure]), most: frees === 'all' ? y.most : x.most + y.most, frees: freed(x, y), either: [...x.either, ...y.either] };
}

// ---- What a call registers ----------------------------------------------

/** Whether a call registers something, itself or in what it calls, on every way. */
export function registersAt(a: Analysis, call: Call): boolean {
  return perRound(a, call).sure.size > 0;
}

/** A call with all its rounds in the loops of this function. */
function made(a: Analysis, home: Fn | Block, call: Call): Count {
  let count = perRound(a, call);
  if (!touches(count)) return count;
  for (let node: AnyNode | undefined = a.program.parentOf(call); node && node !== home; node = a.program.parentOf(node)) {
    const rounds = roundsOf(a, node);
    if (rounds) count = repeated(a, count, rounds, isInEachRound(a, home, node as Stmt | Expr, call));
  }
  return count;
}

function perRound(a: Analysis, call: Call): Count {
  return a.once<Call, Count>('registrations-of', call, NONE, () => {
    const role = roleOf(a, call);
    if (role?.does.has('closes-link') || role?.does.has('opens-link')) return { ...NONE, frees: 'all' };
    if (role?.does.has('subscribes') || role?.does.has('unsubscribes')) return direct(a, call, role.does.has('subscribes'), role.does.has('unsubscribes'));
    const callee = a.resolver.calleeOf(call);
    const counts = callee.fns.filter(fn => fn.body && fn !== a.home(call)).map(fn => passedOn(a, countOf(a, fn), call, fn));
    const [only] = counts;
    const own = only && counts.length === 1 && callee.complete ? only : { ...NONE, most: Math.max(0, ...counts.map(c => c.most)), frees: counts.some(c => c.frees === 'all' || c.frees.size > 0) ? 'all' as const : NONE.frees };
    return call.args.reduce((sum, arg) => plus(sum, deferred(a, call, arg.value)), own);
  });
}

function direct(a: Analysis, call: Call, on: boolean, off: boolean): Count {
  const what = subjectOf(a, call);
  const registration = what && { what, link: linkThing(a, call), by: call };
  if (on && off) {
    const flag = flagOf(a, call);
    return { sure: new Map(), most: 1, frees: registration ? new Map([[keyIn(registration), registration]]) : 'all', either: flag && registration ? [{ flag, registration }] : [] };
  }
  if (off) return { ...NONE, frees: registration ? new Map([[keyIn(registration), registration]]) : 'all' };
  return { ...NONE, sure: registration ? new Map([[keyIn(registration), registration]]) : new Map(), most: 1 };
}

function keyIn({ what, link }: Registration): string {
  return `${link ? keyOf(link) : ''} ${keyOf(what)}`;
}

/** The parameter that says whether to register. */
function flagOf(a: Analysis, call: Call): Param | undefined {
  const member = roleOf(a, call)?.member;
  const at = member?.params?.findIndex(p => p.is === 'enable') ?? -1;
  const value = member && at >= 0 ? argumentAt(call, member, at) : undefined;
  const decl = value?.kind === 'Name' ? a.resolver.declOf(value) : undefined;
  return decl?.is === 'param' ? decl.node : undefined;
}

/** A lambda that is queued or posted here runs once, later, on the same link; and so does an object that is one operation. */
function deferred(a: Analysis, call: Call, value: Expr): Count {
  if (value.kind === 'Call') return queuedObject(a, call, value);
  if (value.kind !== 'Lambda' || a.isInlined(value.fn)) return NONE;
  const run = a.runOf(call, value);
  const count = attributed(a, countOf(a, value.fn), call, value.fn);
  const once = run?.runs === 'later' || run?.runs === 'now' || (run?.runs === 'later-many' && run.through !== undefined) || queueOf(a, value.fn) !== undefined;
  return once ? count : { ...NONE, most: count.most };
}

/** `enqueue(Subscribe(characteristic))`: a queue runs a function of the object, on what the object was built with. */
function queuedObject(a: Analysis, call: Call, made: Call): Count {
  const { constructs } = a.resolver.calleeOf(made);
  if (!constructs || !('kind' in constructs) || constructs.kind !== 'Class') return NONE;
  for (const fn of constructs.functions) {
    const count = fn.body ? countOf(a, fn) : NONE;
    if (count.sure.size === 0 || queueOf(a, fn) === undefined) continue;
    const sure = new Map<string, Registration>();
    for (const registration of attributed(a, count, call, fn).sure.values()) {
      const { what } = registration;
      const built = what.root.is === 'self' && what.root.of === constructs ? partOf(a, made.args, what.path, constructs) : what;
      if (built) put(sure, { ...registration, what: built });
    }
    return { ...NONE, sure, most: count.most };
  }
  return NONE;
}

/** The same registrations, made by a call further out; the link that the function is given is that of whoever runs it. */
function attributed(a: Analysis, count: Count, by: Call, fn: Fn): Count {
  const sure = new Map<string, Registration>();
  for (const { what, link } of count.sure.values()) {
    const isGiven = link?.root.is === 'decl' && link.root.decl.is === 'param' && link.root.decl.fn === fn;
    put(sure, { what, link: isGiven ? ownerThing(a, by) : link, by });
  }
  return { ...count, sure };
}

/** What a function registers in terms of its parameters, said in terms of the arguments. */
function passedOn(a: Analysis, count: Count, call: Call, fn: Fn): Count {
  if (!touches(count)) return NONE;
  const sure = new Map<string, Registration>();
  const frees = new Map<string, Registration>();
  const either: Count['either'][number][] = [];
  const said = (r: Registration): Registration | undefined => {
    const what = atCall(a, r.what, call, fn);
    return what && { what, link: r.link && atCall(a, r.link, call, fn, true), by: call };
  };
  for (const registration of count.sure.values()) put(sure, said(registration));
  let freesAll = count.frees === 'all';
  const flagged = new Set(count.either.map(({ registration }) => keyIn(registration)));
  for (const [key, registration] of count.frees === 'all' ? [] : count.frees) {
    if (!flagged.has(key) && !put(frees, said(registration))) freesAll = true;
  }
  for (const { flag, registration } of count.either) {
    const here = said(registration);
    const value = fn.params.includes(flag) ? a.resolver.argumentFor(call, fn, flag) ?? flag.defaultValue : undefined;
    const outer = value?.kind === 'Name' ? a.resolver.declOf(value) : undefined;
    if (value && a.resolver.constants.bool(value) === true) { put(sure, here); continue; }
    if (!put(frees, here)) freesAll = true;
    if (outer?.is === 'param' && here) either.push({ flag: outer.node, registration: here });
  }
  return { sure, most: count.most, frees: freesAll ? 'all' : frees, either };
}

function put(into: Map<string, Registration>, registration: Registration | undefined): boolean {
  if (registration) into.set(keyIn(registration), registration);
  return registration !== undefined;
}

// ---- Loops --------------------------------------------------------------

/** Whether each round of a loop gets to a call, and on from there to the next round, as far as things work. */
function isInEachRound(a: Analysis, home: Fn | Block, loop: Stmt | Expr, call: Call): boolean {
  const graph = a.graph(home);
  const heads = graph?.stepsOf(loop) ?? [];
  const calls = graph?.stepsOf(call) ?? [];
  const stops = { edge: (edge: Edge) => isBeside(a, edge) || (heads.includes(edge.from) && edge.when?.is === 'round' && !edge.when.holds) };
  const toHead = (from: Step, past: (step: Step) => boolean) => wayFrom(from, step => heads.includes(step), { ...stops, step: past }) !== undefined;
  return heads.length > 0 && calls.some(step => toHead(step, () => false)) && !heads.some(head => toHead(head, step => calls.includes(step)));
}

/** What comes from the loop's element is another thing in each round; what does not is the same one again. */
function repeated(a: Analysis, count: Count, rounds: Rounds, always: boolean): Count {
  const varies = (thing: Thing | undefined): boolean => thing?.root.is === 'decl' && rounds.isElement(thing.root.decl);
  const spread = (registrations: Iterable<Registration>, into: Map<string, Registration>): boolean => {
    let whole = true;
    for (const registration of registrations) {
      const { what, link, by } = registration;
      // Where each round has a link of its own, what one of them gets is what a single round makes.
      if (!varies(what) || varies(link)) { put(into, registration); continue; }
      for (const [n, element] of (rounds.each ?? []).entries()) {
        const here = inRound(a, what, element, n);
        if (!here || !put(into, { what: here, link, by })) whole = false;
      }
      whole &&= rounds.each !== undefined;
    }
    return whole;
  };
  const sure = new Map<string, Registration>();
  const frees = new Map<string, Registration>();
  // A call that only some rounds get to, or a loop of unknown length, makes sure of nothing.
  if (always && rounds.each?.length) spread(count.sure.values(), sure);
  const known = count.frees !== 'all' && spread(count.frees.values(), frees);
  return { sure, most: count.most === 0 ? 0 : count.most * rounds.most, frees: known ? frees : 'all', either: count.either };
}
