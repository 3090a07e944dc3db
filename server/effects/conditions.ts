/**
 * What is known to hold at a place because every way there passed a test of it, and whether two such conditions can hold
 * together. So two branches that ask the same question with opposite answers are never both taken, and a call with a
 * constant argument takes only the branches for it.
 *
 * Only conditions on things that do not change in between are kept: constants, parameters, locals that are written once,
 * and what is read from them.
 */
import type { AnyNode, Block, Call, Expr, Fn } from '../ir/ir.js';
import type { Edge, Graph, Guard, Step } from '../flow/graph.js';
import { solve } from '../flow/solve.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';

export interface Condition {
  /** What is asked about: the declaration it is read from, and the way from there. */
  readonly root: Decl;
  readonly path: string;
  readonly asks: Asks;
  /** Whether it holds, or surely does not. */
  readonly holds: boolean;
}

type Asks =
  | { readonly is: 'equal'; readonly to: Value }
  | { readonly is: 'below'; readonly limit: number }
  | { readonly is: 'type'; readonly name: string };

/** A constant, compared by what it is known to be; a declaration that never changes stands for itself. */
export type Value = string | number | boolean | null | Decl;

type Held = ReadonlyMap<string, Condition>;
const NOTHING: Held = new Map();

/** The conditions that hold at a step, whichever way led there. */
export function heldAt(a: Analysis, graph: Graph, step: Step): readonly Condition[] {
  const held = a.once<Fn | Block, ReadonlyMap<Step, Held> | undefined>('held', graph.of, undefined, () => solveHeld(a, graph));
  return [...(held?.get(step) ?? NOTHING).values()];
}

function solveHeld(a: Analysis, graph: Graph): ReadonlyMap<Step, Held> | undefined {
  return solve<Held>(graph, {
    entry: NOTHING,
    step: (_, state) => state,
    edge: (edge, state) => along(a, edge, state),
    join: (x, y) => (x.size === 0 || y.size === 0 ? NOTHING : new Map([...x].filter(([key]) => y.has(key)))),
    equal: (x, y) => x.size === y.size,
  });
}

function along(a: Analysis, edge: Edge, state: Held): Held {
  const { when } = edge;
  if (!when) return state;
  if (when.is === 'round' && when.holds) return forget(state, when.loop);
  const known = conditionOf(a, when);
  return known ? new Map(state).set(keyOf(known), known) : state;
}

/** What a loop binds is another thing in the next round. */
function forget(state: Held, loop: AnyNode): Held {
  return new Map([...state].filter(([, condition]) => !boundIn(condition.root, loop)));
}

export function boundIn(decl: Decl, loop: AnyNode): boolean {
  if (decl.is === 'platform' || decl.is === 'import') return false;
  return decl.node === loop || (loop.span.start <= decl.node.span.start && decl.node.span.end <= loop.span.end);
}

// ---- What a guard says --------------------------------------------------

export function conditionOf(a: Analysis, guard: Guard): Condition | undefined {
  switch (guard.is) {
    case 'condition': return ofTest(a, guard.test, guard.holds);
    case 'null': return about(a, guard.value, { is: 'equal', to: null }, guard.holds);
    case 'match': {
      const { test, subject, holds } = guard;
      if ('is' in test) return about(a, subject, { is: 'type', name: test.is.name }, holds !== (test.not === true));
      const value = 'when' in test ? valueOf(a, test.when) : undefined;
      return value === undefined ? undefined : about(a, subject, { is: 'equal', to: value }, holds);
    }
    default: return undefined;
  }
}

function ofTest(a: Analysis, test: Expr, holds: boolean): Condition | undefined {
  if (test.kind === 'Is') return about(a, test.value, { is: 'type', name: test.type.name }, holds !== (test.not === true));
  if (test.kind === 'Call' && test.callee.kind === 'Member' && test.callee.name === 'equals' && test.args[0]) {
    return compared(a, test.callee.object, test.args[0].value, holds);
  }
  if (test.kind !== 'Binary') return about(a, test, { is: 'equal', to: true }, holds);
  switch (test.op) {
    case '==': return compared(a, test.left, test.right, holds);
    case '!=': return compared(a, test.left, test.right, !holds);
    case '<': return bounded(a, test.left, test.right, 0, holds);
    case '<=': return bounded(a, test.left, test.right, 1, holds);
    case '>=': return bounded(a, test.left, test.right, 0, !holds);
    case '>': return bounded(a, test.left, test.right, 1, !holds);
    default: return undefined;
  }
}

function compared(a: Analysis, left: Expr, right: Expr, holds: boolean): Condition | undefined {
  const value = valueOf(a, right);
  if (value !== undefined) return about(a, left, { is: 'equal', to: value }, holds);
  const other = valueOf(a, left);
  return other === undefined ? undefined : about(a, right, { is: 'equal', to: other }, holds);
}

function bounded(a: Analysis, left: Expr, right: Expr, more: 0 | 1, holds: boolean): Condition | undefined {
  const limit = a.resolver.constants.whole(right);
  return limit === undefined ? undefined : about(a, left, { is: 'below', limit: limit + more }, holds);
}

export function valueOf(a: Analysis, expr: Expr): Value | undefined {
  if (expr.kind === 'Literal' && typeof expr.value !== 'bigint') return expr.value;
  const { constants } = a.resolver;
  const known = constants.uuid(expr) ?? constants.text(expr) ?? constants.whole(expr) ?? constants.bool(expr);
  if (known !== undefined) return known;
  if (expr.kind !== 'Name' && expr.kind !== 'Member') return undefined;
  const decl = a.resolver.declOf(expr);
  if (decl?.is === 'entry' || (decl?.is === 'platform' && decl.member?.kind === 'constant')) return decl;
  return decl?.is === 'field' && !decl.node.mutable && !decl.node.getter ? decl : undefined;
}

// ---- What is asked about ------------------------------------------------

function about(a: Analysis, expr: Expr, asks: Asks, holds: boolean): Condition | undefined {
  const subject = subjectOf(a, expr);
  return subject && { ...subject, asks, holds };
}

interface Subject { readonly root: Decl; readonly path: string }

/** Something that stays what it is: a way of reading that starts at a declaration which is not written again. */
function subjectOf(a: Analysis, expr: Expr): Subject | undefined {
  switch (expr.kind) {
    case 'Name': case 'Member': {
      const decl = a.resolver.declOf(expr);
      if (decl && isSteady(a, decl)) return { root: decl, path: '' };
      if (expr.kind !== 'Member' || (decl && decl.is !== 'platform' && decl.is !== 'field')) return undefined;
      return further(a, expr.object, expr.name);
    }
    case 'Call': return expr.args.length === 0 && expr.callee.kind === 'Member' ? further(a, expr.callee.object, `${expr.callee.name}()`) : undefined;
    case 'Unary': return expr.op === '!!' ? subjectOf(a, expr.value) : undefined;
    case 'Cast': return subjectOf(a, expr.value);
    default: return undefined;
  }
}

function further(a: Analysis, object: Expr, name: string): Subject | undefined {
  const subject = subjectOf(a, object);
  return subject && { root: subject.root, path: `${subject.path}.${name}` };
}

function isSteady(a: Analysis, decl: Decl): boolean {
  switch (decl.is) {
    case 'param': return a.resolver.writesTo(decl).length === 0;
    case 'local': return a.resolver.writesTo(decl).length <= 1;
    case 'field': return !decl.node.mutable && !decl.node.getter;
    case 'platform': return decl.member === undefined || decl.member.static === true;
    case 'entry': return true;
    default: return false;
  }
}

const numbers = new WeakMap<object, number>();
let next = 0;

function numberOf(object: object): number {
  let known = numbers.get(object);
  if (known === undefined) numbers.set(object, known = next++);
  return known;
}

function keyOf({ root, path, asks, holds }: Condition): string {
  const what = asks.is === 'equal' ? `=${textOf(asks.to)}` : asks.is === 'below' ? `<${asks.limit}` : `:${asks.name}`;
  return `${numberOf(root)}${path}${what} ${holds}`;
}

function textOf(value: Value): string {
  return value !== null && typeof value === 'object' ? `#${numberOf(value)}` : `${typeof value} ${String(value)}`;
}

// ---- Whether both can be -------------------------------------------------

/** Whether two sets of conditions can never hold for one run of a function. */
export function exclude(xs: readonly Condition[], ys: readonly Condition[]): boolean {
  return xs.some(x => ys.some(y => x.root === y.root && x.path === y.path && contradict(x, y)));
}

function contradict(x: Condition, y: Condition): boolean {
  const [p, q] = [x.asks, y.asks];
  if (p.is === 'equal' && q.is === 'equal') return p.to === q.to ? x.holds !== y.holds : x.holds && y.holds;
  if (p.is === 'below' && q.is === 'below') return x.holds && !y.holds ? p.limit <= q.limit : y.holds && !x.holds ? q.limit <= p.limit : false;
  if (p.is === 'type' && q.is === 'type') return p.name === q.name ? x.holds !== y.holds : false;
  if (p.is === 'equal' && q.is === 'below') return x.holds && typeof p.to === 'number' && (p.to < q.limit) !== y.holds;
  if (p.is === 'below' && q.is === 'equal') return y.holds && typeof q.to === 'number' && (q.to < p.limit) !== x.holds;
  return false;
}

/**
 * Conditions on a function's parameters, in the words of a call of it; `never` when the call's arguments contradict one.
 * Conditions on anything else that the caller does not know say nothing to it.
 */
export function atCall(a: Analysis, conditions: readonly Condition[], call: Call, fn: Fn): readonly Condition[] | 'never' {
  const found: Condition[] = [];
  for (const condition of conditions) {
    const { root, path } = condition;
    if (root.is === 'field' || root.is === 'platform' || root.is === 'entry') { found.push(condition); continue; }
    if (root.is !== 'param' || root.fn !== fn) continue;
    const argument = a.resolver.argumentFor(call, fn, root.node) ?? root.node.defaultValue;
    if (!argument) continue;
    const value = path === '' ? valueOf(a, argument) : undefined;
    if (value !== undefined) {
      if (contradict({ root, path, asks: { is: 'equal', to: value }, holds: true }, condition)) return 'never';
      continue;
    }
    const subject = subjectOf(a, argument);
    if (subject) found.push({ ...condition, root: subject.root, path: subject.path + path });
  }
  return found;
}
