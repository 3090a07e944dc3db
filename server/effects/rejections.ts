/**
 * Where the rejection of a GATT promise goes: who waits for the promise, and whether somebody on the way up catches.
 * A function that hands its rejection to its caller is fine; the outermost caller must have an answer.
 */
import type { AnyNode, Block, Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { callsIn } from './inflight.js';
import { lifecycleFor } from './ways.js';
import { listenedEvent } from './operations.js';
import { roleOf } from './roles.js';
import { runOf, runOfLambda } from './runs.js';

/** What becomes of a promise. */
export type PromiseUse =
  /** Nobody waits for it, and nobody catches: a statement, a dropped lambda value, a local that is never read. */
  | { readonly is: 'floating'; readonly deliberate: boolean; readonly through?: Call; readonly chained?: true }
  /** Its failure has an answer of its own: `.catch`, a second argument of `then`, allSettled. */
  | { readonly is: 'caught' }
  /** Awaited or returned: the failure goes on to the function around. */
  | { readonly is: 'forwarded'; readonly at: Expr }
  | { readonly is: 'kept' }
  | { readonly is: 'unknown' };

export function promiseUse(a: Analysis, expr: Expr): PromiseUse {
  return a.once<Expr, PromiseUse>('promise-use', expr, { is: 'unknown' }, () => climb(a, expr));
}

function climb(a: Analysis, expr: Expr): PromiseUse {
  const parent = a.program.parentOf(expr);
  if (!parent) return { is: 'unknown' };
  switch (parent.kind) {
    case 'ExprStmt': return { is: 'floating', deliberate: parent.deliberate === true };
    case 'Await': return { is: 'forwarded', at: expr };
    case 'Return': return returned(a, parent, expr);
    case 'Unary': return parent.op === 'void' ? { is: 'floating', deliberate: true } : promiseUse(a, parent);
    case 'Binary': return parent.op === ',' && parent.left === expr ? { is: 'floating', deliberate: false } : promiseUse(a, parent);
    case 'Cast': case 'Choose': return promiseUse(a, parent);
    case 'Yield': {
      for (let up = a.program.parentOf(parent); up; up = a.program.parentOf(up)) if (up.kind === 'Choose') return promiseUse(a, up);
      return { is: 'unknown' };
    }
    case 'Branch': case 'Loop': return { is: 'kept' };
    case 'Let': return local(a, parent);
    case 'Assign': case 'Field': case 'Throw': case 'EnumEntry': case 'Param': return { is: 'kept' };
    case 'ListExpr': return promiseUse(a, parent);
    case 'Member': return chained(a, parent, expr);
    case 'Call': return argument(a, parent, expr);
    // A saga's driver takes what is yielded to it and throws the rejection back in.
    case 'Emit': return { is: 'forwarded', at: expr };
    default: return { is: 'unknown' };
  }
}

/** A local: as much waited for as its reads are. */
function local(a: Analysis, parent: AnyNode & { kind: 'Let' }): PromiseUse {
  const decl = a.resolver.declFor(parent, parent.bindings[0]);
  if (decl?.is !== 'local') return { is: 'kept' };
  const uses = a.resolver.readsOf(decl).map(read => promiseUse(a, read));
  if (uses.length === 0) return { is: 'floating', deliberate: false };
  // Every reader has the failure: one that catches it does not take it from another that hands it on.
  return (['forwarded', 'kept', 'unknown', 'caught'] as const).map(is => uses.find(use => use.is === is)).find(use => use !== undefined) ?? uses[0]!;
}

/** `promise.then(…)`, `.catch(…)`, `.finally(…)`. */
function chained(a: Analysis, member: Expr & { kind: 'Member' }, promise: Expr): PromiseUse {
  const call = a.program.parentOf(member);
  if (member.object !== promise || call?.kind !== 'Call' || call.callee !== member) return { is: 'kept' };
  if (member.name === 'catch') return caughtBy(a, call, call.args[0]?.value);
  if (member.name === 'then' && call.args.length > 1 && !isNothing(call.args[1]!.value)) return caughtBy(a, call, call.args[1]!.value);
  if (member.name === 'then' || member.name === 'finally') {
    const use = promiseUse(a, call);
    return use.is === 'floating' && member.name === 'then' ? { ...use, chained: true } : use;
  }
  return { is: 'unknown' };
}

function isNothing(expr: Expr): boolean {
  return expr.kind === 'Literal' && expr.value === null;
}

/** A handler that throws again hands the failure on to whoever has the new promise. */
function caughtBy(a: Analysis, call: Call, handler: Expr | undefined): PromiseUse {
  if (!handler || isNothing(handler)) return promiseUse(a, call);
  const fns = a.resolver.functionValue(handler) ?? [];
  return fns.length > 0 && fns.every(fn => alwaysThrows(a, fn)) ? promiseUse(a, call) : { is: 'caught' };
}

function alwaysThrows(a: Analysis, fn: Fn): boolean {
  const graph = a.graph(fn);
  return graph !== undefined && graph.thrown.before.length > 0 && graph.exit.before.length === 0;
}

function returned(a: Analysis, stmt: AnyNode & { kind: 'Return' }, expr: Expr): PromiseUse {
  const fn = a.program.enclosingFn(stmt);
  const lambda = fn && a.program.parentOf(fn);
  if (!fn || lambda?.kind !== 'Lambda') return { is: 'forwarded', at: expr };
  return fn.modifiers.has('async') ? { is: 'forwarded', at: expr } : ofLambdaValue(a, fn, expr);
}

/** What becomes of a promise that a lambda yields. */
function ofLambdaValue(a: Analysis, fn: Fn, expr: Expr): PromiseUse {
  const lambda = a.program.parentOf(fn) as Expr;
  const run = runOfLambda(a, fn);
  if (!run) {
    const holder = a.program.parentOf(lambda);
    return holder?.kind === 'Call' ? { is: 'unknown' } : { is: 'forwarded', at: expr };
  }
  if (run.through) return throughParam(a, run.through.param, expr);
  if (run.runner?.yields === 'promise-of-lambda') return promiseUse(a, run.call);
  if (run.value === 'dropped') return { is: 'floating', deliberate: false, through: run.call };
  if (run.value === 'collected' || run.value === 'yielded') return promiseUse(a, run.call);
  return run.value === 'awaited' ? promiseUse(a, run.call) : { is: 'unknown' };
}

function throughParam(a: Analysis, param: Fn['params'][number], expr: Expr): PromiseUse {
  const decl = a.resolver.declFor(param);
  for (const read of decl ? a.resolver.readsOf(decl) : []) {
    const up = a.program.parentOf(read);
    if (up?.kind === 'Call' && up.callee === read) return promiseUse(a, up);
    if (up?.kind === 'Call') {
      const run = runOf(a, up, read);
      return run?.runner?.yields === 'promise-of-lambda' ? promiseUse(a, up) : { is: 'unknown' };
    }
  }
  return { is: 'forwarded', at: expr };
}

function argument(a: Analysis, call: Call, expr: Expr): PromiseUse {
  if (call.callee === expr) return { is: 'unknown' };
  const { callee } = call;
  if (callee.kind === 'Member' && callee.object.kind === 'Name' && callee.object.name === 'Promise') {
    return callee.name === 'allSettled' ? { is: 'caught' } : promiseUse(a, call);
  }
  // `list.push(promise)`: whoever has the list.
  return { is: 'kept' };
}

// ---- Failure inside a function ------------------------------------------

/** Calls whose rejection or exception leaves the function: no `try` with an answer stands around the place where it arrives. */
export function escapes(a: Analysis, home: Fn | Block): readonly Call[] {
  return a.once<Fn | Block, readonly Call[]>('escapes', home, [], () => {
    if (home.kind === 'Fn' && home.modifiers.has('generator')) return [];
    return callsIn(a, home).filter(call => {
      if (!mayReject(a, call)) return false;
      const use = promiseUse(a, call);
      return use.is === 'forwarded' && !isCaught(a, use.at, home);
    });
  });
}

/** A call whose promise rejects when an operation over the air fails: of the platform, or of a function that forwards one. */
export function mayReject(a: Analysis, call: Call): boolean {
  return a.once<Call, boolean>('may-reject', call, false, () => {
    if (isGattPromise(a, call)) return true;
    const callee = a.resolver.calleeOf(call);
    if (call.construct && call.callee.kind === 'Name' && call.callee.name === 'Promise') return executorRejects(a, call);
    return callee.fns.some(fn => fn.body !== undefined && yieldsPromise(a, fn) && (escapes(a, fn).length > 0 || handsOnFailure(a, call)));
  });
}

/** `tail.run(() => c.readValue())`: what the function given fails with comes out of the function that takes it. */
function handsOnFailure(a: Analysis, call: Call): boolean {
  return call.args.some(({ value }) => value.kind === 'Lambda' && runOf(a, call, value)?.through !== undefined && escapes(a, value.fn).length > 0);
}

/** `new Promise((resolve, reject) => …)`: rejects if it hears of an operation's failure and calls `reject` for anything. */
function executorRejects(a: Analysis, call: Call): boolean {
  const executor = call.args[0]?.value;
  const reject = executor?.kind === 'Lambda' ? executor.fn.params[1] : undefined;
  const decl = reject && a.resolver.declFor(reject);
  if (executor?.kind !== 'Lambda' || !decl || a.resolver.readsOf(decl).length === 0) return false;
  let found = false;
  a.eachBelow(executor.fn, node => {
    if (node.kind === 'Call' && mayReject(a, node)) found = true;
    return found ? 'skip' : undefined;
  });
  return found;
}

export function isGattPromise(a: Analysis, call: Call): boolean {
  const role = roleOf(a, call);
  return role?.answer === 'promise' && role.does.size > 0;
}

function yieldsPromise(a: Analysis, fn: Fn): boolean {
  return fn.modifiers.has('async') || a.resolver.resultOf(fn)?.name === 'Promise';
}

/** Whether a `try` with a catch that does not only throw again stands between a place and its function's edge. */
function isCaught(a: Analysis, at: Expr, home: Fn | Block): boolean {
  for (let node: AnyNode | undefined = at, below: AnyNode = at; node && node !== home; below = node, node = a.program.parentOf(node)) {
    if (node.kind === 'Try' && node.body === below && node.catches.some(c => !throwsAgain(a, c.body))) return true;
  }
  return false;
}

function throwsAgain(_a: Analysis, block: Block): boolean {
  const last = block.stmts.at(-1);
  return last?.kind === 'Throw';
}

// ---- The outermost caller -----------------------------------------------

/** Why nobody above a function can catch: it is run by something that drops its promise. */
export type Outermost =
  | { readonly is: 'event'; readonly name: string }
  | { readonly is: 'lifecycle'; readonly name: string }
  | { readonly is: 'top-level' }
  | { readonly is: 'component'; readonly name: string };

export function outermost(a: Analysis, home: Fn | Block): Outermost | undefined {
  return a.once<Fn | Block, Outermost | undefined>('outermost', home, undefined, () => {
    if (home.kind === 'Block') return { is: 'top-level' };
    const holder = a.program.parentOf(home);
    if (holder?.kind === 'Lambda') return outermostLambda(a, home, holder);
    const lifecycle = lifecycleFor(a, home);
    if (lifecycle) return { is: 'lifecycle', name: lifecycle.name };
    const event = listenedEvent(a, home);
    if (event !== undefined) return { is: 'event', name: event };
    if (isHandlerReference(a, home)) return { is: 'event', name: home.name ?? 'handler' };
    return isComponentAction(a, home) ? { is: 'component', name: home.name! } : undefined;
  });
}

function outermostLambda(a: Analysis, fn: Fn, lambda: AnyNode): Outermost | undefined {
  const run = runOfLambda(a, fn);
  if (run && !run.through && run.value === 'dropped' && (run.runs === 'later' || run.runs === 'later-many')) {
    return { is: 'event', name: eventName(a, run.call) };
  }
  const field = a.program.parentOf(lambda);
  // `button.onclick = async () => …`, `<button onClick={async () => …}>`, `{ onClick: async () => … }` given to markup.
  if (field?.kind === 'Assign' && field.target.kind === 'Member' && /^on[a-z]+$/.test(field.target.name)) return { is: 'event', name: field.target.name };
  if (field?.kind === 'Field' && /^on[A-Z:]?\w*$/.test(field.name) && isMarkup(a, field)) return { is: 'event', name: field.name };
  if (field?.kind === 'Let' && fn.params.length <= 1) {
    const decl = a.resolver.declFor(field, field.bindings[0]);
    const handler = decl && a.resolver.readsOf(decl).some(read => isHandlerPlace(a, read));
    if (handler) return { is: 'event', name: field.bindings[0]!.name };
  }
  return undefined;
}

function eventName(a: Analysis, call: Call): string {
  const text = call.args[0] && a.resolver.constants.text(call.args[0].value);
  return text ?? a.calleeName(call) ?? 'handler';
}

function isMarkup(a: Analysis, field: AnyNode & { kind: 'Field' }): boolean {
  const cls = a.program.ownerOf(field);
  const object = cls && a.program.parentOf(cls);
  const call = object && a.program.parentOf(object);
  return call?.kind === 'Call' && call.markup === true;
}

/** A place that takes an event handler: a markup attribute, `element.onclick = …`, a listener registration. */
function isHandlerPlace(a: Analysis, use: Expr): boolean {
  const parent = a.program.parentOf(use);
  if (parent?.kind === 'Field') return /^on[A-Z:]?\w*$/.test(parent.name) && isMarkup(a, parent);
  if (parent?.kind === 'Assign') return parent.value === use && parent.target.kind === 'Member' && /^on[a-z]+$/.test(parent.target.name);
  if (parent?.kind === 'Call' && parent.callee !== use) {
    const run = runOf(a, parent, use);
    return run !== undefined && !run.through && run.value === 'dropped' && (run.runs === 'later' || run.runs === 'later-many');
  }
  return false;
}

function isHandlerReference(a: Analysis, fn: Fn): boolean {
  return a.resolver.referencesTo(fn).some(use => isHandlerPlace(a, use));
}

/** Annotations and base classes of components whose templates call their public methods. */
const COMPONENTS = /^(?:Component|customElement|Directive)$/;
const COMPONENT_BASES = /^(?:LitElement|HTMLElement|Component|PureComponent|Vue)$/;

/** A public method of a component that no code calls: its template does. */
function isComponentAction(a: Analysis, fn: Fn): boolean {
  const owner = a.program.ownerOf(fn);
  if (!owner || !fn.name || fn.name === 'constructor' || a.resolver.callersOf(fn).length > 0 || a.resolver.referencesTo(fn).length > 0) return false;
  return owner.annotations.some(an => COMPONENTS.test(an.name)) || owner.supertypes.some(s => COMPONENT_BASES.test(s.type.name));
}
