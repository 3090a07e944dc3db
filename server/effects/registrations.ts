/**
 * How many notification registrations one link asks for: the least that every way to a place has made, and the most that
 * any may have. The same characteristic twice takes one place, so what is counted is what is subscribed, not the calls;
 * a loop counts when what it goes over is known.
 *
 * The platform keeps registrations per GATT client object, keyed by address and handle: AOSP BTA_GATTC_NOTIF_REG_MAX,
 * bta/gatt/bta_gattc_int.h, tBTA_GATTC_RCB.
 */
import type { AnyNode, Block, Call, Expr, File, Fn } from '../ir/ir.js';
import type { Edge, Step } from '../flow/graph.js';
import { solve } from '../flow/solve.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { callsIn } from './inflight.js';
import { linkOf } from './link-of.js';
import { argumentAt, roleOf } from './roles.js';

/** The call at which the count passes a limit. */
export interface Registrations {
  readonly at: Call;
  /** Distinct registrations after it, on every way. */
  readonly least: number;
  /** On any way; Infinity when nothing bounds it. */
  readonly most: number;
}

/** What is subscribed: something fixed, or whatever a parameter or loop element is. */
type What = { readonly is: 'fixed'; readonly key: string } | { readonly is: 'decl'; readonly decl: Decl; readonly key: string };

interface Count {
  /** By key, what every way has subscribed. */
  readonly sure: ReadonlyMap<string, What>;
  readonly most: number;
}

const NONE: Count = { sure: new Map(), most: 0 };

/** The places of a file at which a function passes the limit, callers not counted twice. */
export function registrationsIn(a: Analysis, file: File, limit: number): readonly Registrations[] {
  const homes: (Fn | Block)[] = [file.body];
  a.eachBelow(file, node => {
    if (node.kind === 'Fn' && !a.isInlined(node)) homes.push(node);
    return undefined;
  });
  return homes.flatMap(home => {
    const found = passing(a, home, limit);
    return found ? [found] : [];
  });
}

/** The most that any function of a file may register, for the budget. */
export function mostIn(a: Analysis, file: File): number {
  let most = 0;
  a.eachBelow(file, node => {
    if (node.kind === 'Fn' && !a.isInlined(node)) most = Math.max(most, countOf(a, node).most);
    return undefined;
  });
  return most;
}

/** The first call of a function at which the sure count passes the limit, unless what it calls passes it by itself. */
function passing(a: Analysis, home: Fn | Block, limit: number): Registrations | undefined {
  let found: Registrations | undefined;
  for (const [step, count] of before(a, home) ?? []) {
    if (step.node?.kind !== 'Call') continue;
    const after = plus(count, made(a, home, step.node));
    if (count.sure.size > limit || after.sure.size <= limit || (found && found.at.span.start <= step.node.span.start)) continue;
    const alone = a.resolver.calleeOf(step.node).fns.some(fn => countOf(a, fn).sure.size > limit);
    if (!alone) found = { at: step.node, least: after.sure.size, most: after.most };
  }
  return found;
}

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
    const graph = callsIn(a, home).some(call => perRound(a, call).most > 0) ? a.graph(home) : undefined;
    const states = graph && solve<State>(graph, {
      entry: { fresh: NONE },
      step: (step, state) => (step.node?.kind === 'Call' && state.fresh ? { ...state, fresh: plus(state.fresh, made(a, home, step.node)) } : state),
      edge: (edge, state) => (isBeside(a, edge) ? undefined : around(a, edge, state)),
      join: (x, y) => ({ ...both('fresh', x.fresh, y.fresh), ...both('again', x.again, y.again) }),
      equal: (x, y) => same(x.fresh, y.fresh) && same(x.again, y.again),
    });
    return states && new Map([...states].flatMap(([step, { fresh }]) => (fresh ? [[step, fresh] as const] : [])));
  });
}

/** Rounds are multiplied in, so a round runs once; a loop whose rounds are known is not left before the first. */
function around(a: Analysis, edge: Edge, state: State): State | undefined {
  const isHead = edge.to.node?.kind === 'Loop' || edge.to.node?.kind === 'Lambda';
  if (isHead && edge.from.id > edge.to.id) return state.fresh && { again: state.fresh };
  if (edge.when?.is !== 'round') return state.fresh && { fresh: state.fresh };
  if (edge.when.holds) return state.fresh && { fresh: state.fresh };
  const { loop } = edge.when;
  const source = loop.kind === 'Loop' ? loop.over?.source : loop.kind === 'Call' && loop.callee.kind === 'Member' ? loop.callee.object : undefined;
  const rounds = source && keysOf(a, source);
  if (rounds?.length && state.again) return { fresh: state.again };
  return both('fresh', state.fresh, state.again);
}

function both(name: 'fresh' | 'again', x: Count | undefined, y: Count | undefined): State {
  const joined = x && y ? { sure: new Map([...x.sure].filter(([key]) => y.sure.has(key))), most: Math.max(x.most, y.most) } : x ?? y;
  return joined ? { [name]: joined } : {};
}

function same(x: Count | undefined, y: Count | undefined): boolean {
  return x === y || (x !== undefined && y !== undefined && x.most === y.most && x.sure.size === y.sure.size);
}

/** Ways on which a look-up found nothing: the device that the code is written for has what the code looks for. */
function isBeside(a: Analysis, edge: Edge): boolean {
  const guard = edge.when;
  if (guard?.is === 'null') return guard.holds && isLookUp(a, guard.value);
  if (guard?.is !== 'condition' || guard.test.kind !== 'Binary') return false;
  const { op, left, right } = guard.test;
  return right.kind === 'Literal' && right.value === null && (op === '==' ? guard.holds : op === '!=' && !guard.holds) && isLookUp(a, left);
}

function isLookUp(a: Analysis, value: Expr): boolean {
  return /^Bluetooth(?:Gatt|Remote)/.test(a.resolver.typeOf(value)?.name ?? '');
}

// ---- What a call registers ----------------------------------------------

/** A call with all its rounds in the loops of this function. */
function made(a: Analysis, home: Fn | Block, call: Call): Count {
  let count = perRound(a, call);
  if (count.most === 0) return count;
  for (let node: AnyNode | undefined = a.program.parentOf(call); node && node !== home; node = a.program.parentOf(node)) {
    const rounds = roundsOf(a, node);
    if (rounds) count = repeated(count, rounds);
  }
  return count;
}

function perRound(a: Analysis, call: Call): Count {
  return a.once<Call, Count>('registrations-of', call, NONE, () => {
    const role = roleOf(a, call);
    if (role?.does.has('subscribes')) {
      const either = role.does.has('unsubscribes');
      const what = subscribed(a, call);
      return { sure: either ? new Map() : new Map([[what.key, what]]), most: 1 };
    }
    const callee = a.resolver.calleeOf(call);
    const counts = callee.fns.filter(fn => fn.body && fn !== a.home(call)).map(fn => passedOn(a, countOf(a, fn), call, fn));
    const [first] = counts;
    const direct = first && counts.length === 1 && callee.complete ? first : { sure: NONE.sure, most: Math.max(0, ...counts.map(c => c.most)) };
    return call.args.reduce((sum, arg) => plus(sum, deferred(a, call, arg.value)), direct);
  });
}

/** A lambda that is queued or posted here runs once, later, on the same link. */
function deferred(a: Analysis, call: Call, value: Expr): Count {
  if (value.kind !== 'Lambda' || a.isInlined(value.fn)) return NONE;
  const runs = a.runOf(call, value)?.runs;
  const count = countOf(a, value.fn);
  return runs === 'later' || runs === 'now' || (runs === 'later-many' && a.runOf(call, value)?.through) ? count : { sure: NONE.sure, most: count.most };
}

/** What a function registers in terms of its parameters, said in terms of the arguments. */
function passedOn(a: Analysis, count: Count, call: Call, fn: Fn): Count {
  const sure = new Map<string, What>();
  for (const what of count.sure.values()) {
    const param = what.is === 'decl' && what.decl.is === 'param' ? what.decl.node : undefined;
    const arg = param && fn.params.includes(param) ? a.resolver.argumentFor(call, fn, param) : undefined;
    const said: What = arg ? origin(a, arg, call) : what;
    sure.set(said.key, said);
  }
  return { sure, most: count.most };
}

function subscribed(a: Analysis, call: Call): What {
  const member = roleOf(a, call)?.member;
  const at = member?.params?.findIndex(p => p.is === 'characteristic') ?? -1;
  const expr = member && at >= 0 ? argumentAt(call, member, at) : a.resolver.calleeOf(call).receiver?.expr;
  return expr ? origin(a, expr, call) : unique(a, call);
}

/** What an expression stands for: the UUID it is looked up by, a field, or the parameter or loop element it comes from. */
function origin(a: Analysis, expr: Expr, call: Call, depth = 0): What {
  const uuid = a.resolver.constants.uuid(expr);
  if (uuid !== undefined) return { is: 'fixed', key: `${linkKey(a, call)}${uuid}` };
  if (depth > 8) return unique(a, call);
  switch (expr.kind) {
    case 'Name': return ofName(a, expr, call, depth);
    case 'Member': {
      const decl = a.resolver.declOf(expr);
      return decl?.is === 'field' && expr.object.kind === 'This' ? byDecl(a, decl, call) : origin(a, expr.object, call, depth + 1);
    }
    case 'Call': {
      for (const arg of expr.args) {
        const found = origin(a, arg.value, call, depth + 1);
        if (found.is === 'decl' || !found.key.startsWith('call ')) return found;
      }
      return expr.callee.kind === 'Member' ? origin(a, expr.callee.object, call, depth + 1) : unique(a, call);
    }
    case 'Binary': return expr.op === '??' ? origin(a, expr.left, call, depth + 1) : unique(a, call);
    case 'Unary': case 'Cast': case 'Await': return origin(a, expr.value, call, depth + 1);
    case 'Index': return unique(a, expr);
    default: return unique(a, call);
  }
}

function ofName(a: Analysis, expr: Expr & { kind: 'Name' }, call: Call, depth: number): What {
  const decl = a.resolver.declOf(expr);
  if (decl?.is === 'local' && decl.node.kind === 'Let') {
    const [write, ...others] = a.resolver.writesTo(decl);
    if (write?.value && others.length === 0) return origin(a, write.value, call, depth + 1);
  }
  return decl ? byDecl(a, decl, call) : unique(a, call);
}

function byDecl(a: Analysis, decl: Decl, call: Call): What {
  if (decl.is === 'platform') return unique(a, call);
  const key = `${decl.file.path} ${decl.node.span.start} ${decl.name}`;
  return decl.is === 'param' || decl.is === 'local' ? { is: 'decl', decl, key } : { is: 'fixed', key };
}

function unique(a: Analysis, node: AnyNode): What {
  return { is: 'fixed', key: `call ${a.fileOf(node)?.path ?? ''} ${node.span.start}` };
}

/** Registrations of two client objects do not add up. */
function linkKey(a: Analysis, call: Call): string {
  const { root, type } = linkOf(a, call);
  return root?.is === 'field' && type === 'BluetoothGatt' ? `${root.file.path} ${root.node.span.start} ` : '';
}

// ---- Loops ---------------------------------------------------------------

interface Rounds {
  readonly elements: ReadonlySet<Decl>;
  /** A key for each round; undefined when the rounds are not known. */
  readonly keys: readonly string[] | undefined;
}

function roundsOf(a: Analysis, node: AnyNode): Rounds | undefined {
  if (node.kind === 'Loop') {
    const elements = (node.over?.bindings ?? []).map(binding => a.resolver.declFor(node, binding));
    return { elements: present(elements), keys: node.over && keysOf(a, node.over.source) };
  }
  if (node.kind !== 'Lambda' || !a.isInlined(node.fn)) return undefined;
  const taker = a.program.parentOf(node);
  if (taker?.kind !== 'Call' || a.runOf(taker, node)?.runs !== 'now-many') return undefined;
  const elements = present(node.fn.params.map(param => a.resolver.declFor(param)));
  return { elements, keys: taker.callee.kind === 'Member' ? keysOf(a, taker.callee.object) : undefined };
}

function present(decls: readonly (Decl | undefined)[]): ReadonlySet<Decl> {
  return new Set(decls.filter(decl => decl !== undefined));
}

/** One key for each element of a constant collection: its UUID where it has one. */
function keysOf(a: Analysis, source: Expr): readonly string[] | undefined {
  const entries = a.resolver.constants.entries(source);
  if (entries) return entries.map(entry => `entry ${entry.name} ${entry.span.start}`);
  return a.resolver.constants.items(source)?.map((item, i) => a.resolver.constants.uuid(item) ?? a.resolver.constants.text(item) ?? `item ${item.span.start} ${i}`);
}

/** What comes from the loop's element is another thing in each round; what does not is the same one again. */
function repeated(count: Count, rounds: Rounds): Count {
  const sure = new Map<string, What>();
  for (const what of count.sure.values()) {
    const varies = what.is === 'decl' && rounds.elements.has(what.decl);
    if (!varies) { if (rounds.keys?.length) sure.set(what.key, what); continue; }
    for (const key of rounds.keys ?? []) sure.set(key, { is: 'fixed', key });
  }
  return { sure, most: rounds.keys ? count.most * rounds.keys.length : Infinity };
}

function plus(x: Count, y: Count): Count {
  return y.most === 0 ? x : { sure: new Map([...x.sure, ...y.sure]), most: x.most + y.most };
}
