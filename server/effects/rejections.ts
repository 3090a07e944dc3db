/**
 * Where the rejection of a GATT promise goes: who waits for the promise, and whether somebody on the way up catches.
 * A function that hands its rejection to its caller is fine; the outermost caller must have an answer (`outermost.ts`).
 */
import type { AnyNode, Block, Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { calledFns } from './hooks.js';
import { callsIn } from './inflight.js';
import { dropsPromise, outermost } from './outermost.js';
import { roleOf } from './roles.js';
import { runOf, runOfLambda } from './runs.js';

/** What becomes of a promise. */
export type PromiseUse =
  /**
   * Nobody waits for it, and nobody catches: a statement, a dropped lambda value, a local that is never read. `through`:
   * what drops the lambda's value. `chained`: the last call of a chain that has a path for success alone.
   */
  | { readonly is: 'floating'; readonly deliberate: boolean; readonly through?: AnyNode; readonly chained?: Call }
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
    case 'Loop': return parent.over?.awaited && parent.over.source === expr ? { is: 'forwarded', at: expr } : { is: 'kept' };
    case 'Branch': return { is: 'kept' };
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
  if (decl?.is !== 'local' || parent.exported) return { is: 'kept' };
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
    return use.is === 'floating' && member.name === 'then' ? { chained: call, ...use } : use;
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

/** An async function takes the failure on itself; another hands the promise to whoever runs it. */
function returned(a: Analysis, stmt: AnyNode & { kind: 'Return' }, expr: Expr): PromiseUse {
  const fn = a.program.enclosingFn(stmt);
  if (!fn || fn.modifiers.has('async')) return { is: 'forwarded', at: expr };
  const lambda = a.program.parentOf(fn);
  if (lambda?.kind === 'Lambda') return ofLambdaValue(a, fn, lambda, expr);
  const out = outermost(a, fn);
  return out && out.is !== 'component' ? { is: 'floating', deliberate: false, ...(out.at && { through: out.at }) } : { is: 'forwarded', at: expr };
}

/** What becomes of a promise that a lambda yields. */
function ofLambdaValue(a: Analysis, fn: Fn, lambda: Expr, expr: Expr): PromiseUse {
  const run = runOfLambda(a, fn);
  const use = run && !run.through && run.runner?.yields !== 'first-argument' ? throughRunner(a, run) : undefined;
  if (use) return use;
  const out = dropsPromise(a, lambda);
  if (out) return { is: 'floating', deliberate: out.deliberate === true, ...(out.at && { through: out.at }) };
  if (run?.through) return throughParam(a, run.through.param, expr);
  const holder = a.program.parentOf(lambda);
  return holder?.kind === 'Call' && holder.callee !== lambda && run?.runner?.yields !== 'first-argument' ? { is: 'unknown' } : { is: 'forwarded', at: expr };
}

function throughRunner(a: Analysis, run: NonNullable<ReturnType<typeof runOfLambda>>): PromiseUse | undefined {
  if (run.runner?.yields === 'promise-of-lambda') return promiseUse(a, run.call);
  if (run.value === 'dropped') return { is: 'floating', deliberate: false, through: run.call };
  if (run.value === 'collected' || run.value === 'yielded' || run.value === 'awaited') return promiseUse(a, run.call);
  return { is: 'unknown' };
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
    // What runs a saga takes its failures; an asynchronous generator throws them at whoever iterates it.
    if (home.kind === 'Fn' && home.modifiers.has('generator') && !home.modifiers.has('async')) return [];
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
    if (isGattPromise(a, call) || isChooser(a, call)) return true;
    if (call.construct && call.callee.kind === 'Name' && call.callee.name === 'Promise') return executorRejects(a, call);
    return calledFns(a, call).some(fn => {
      if (fn.body === undefined || !yieldsPromise(a, fn) || (fn.modifiers.has('generator') && !isIterated(a, call))) return false;
      return escapes(a, fn).length > 0 || handsOnFailure(a, call);
    });
  });
}

/** `for await (const x of readings())`: a generator runs only for who iterates it. */
function isIterated(a: Analysis, call: Call): boolean {
  const parent = a.program.parentOf(call);
  return parent?.kind === 'Loop' && parent.over?.awaited === true;
}

/** `tail.run(() => c.readValue())`: what the function given fails with comes out of the function that takes it. */
function handsOnFailure(a: Analysis, call: Call): boolean {
  return call.args.some(({ value }) => value.kind === 'Lambda' && runOf(a, call, value)?.through !== undefined && escapes(a, value.fn).length > 0);
}

/** `new Promise((resolve, reject) => …)`: rejects if it hears of an operation's failure and has a use for `reject`. */
function executorRejects(a: Analysis, call: Call): boolean {
  const executor = call.args[0]?.value;
  const reject = executor?.kind === 'Lambda' ? executor.fn.params[1] : undefined;
  const decl = reject && a.resolver.declFor(reject);
  if (executor?.kind !== 'Lambda' || !decl || a.resolver.readsOf(decl).length === 0) return false;
  if (hearsOfFailure(a, executor.fn)) return true;
  // Kept with the operation that waits for its turn: whoever runs it rejects when it fails.
  const isKept = a.resolver.readsOf(decl).some(read => ['Field', 'Assign', 'ListExpr', 'ObjectExpr'].includes(a.program.parentOf(read)?.kind ?? ''));
  const scope = a.program.enclosingClass(call) ?? a.fileOf(call);
  return isKept && scope !== undefined && hearsOfFailure(a, scope);
}

/** An operation that may fail is started somewhere inside. */
function hearsOfFailure(a: Analysis, scope: AnyNode): boolean {
  return a.once<AnyNode, boolean>('hears-of-failure', scope, false, () => {
    let found = false;
    a.eachBelow(scope, node => {
      if (node.kind === 'Call' && (isGattPromise(a, node) || (scope.kind === 'Fn' && mayReject(a, node)))) found = true;
      return found ? 'skip' : undefined;
    });
    return found;
  });
}

export function isGattPromise(a: Analysis, call: Call): boolean {
  const role = roleOf(a, call);
  return role?.answer === 'promise' && role.does.size > 0;
}

/** The chooser, which rejects when the user closes it. Source: Web Bluetooth, requestDevice(options). */
function isChooser(a: Analysis, call: Call): boolean {
  if (a.calleeName(call) !== 'requestDevice') return false;
  const callee = a.resolver.calleeOf(call);
  return callee.fns.length === 0 && callee.owner === 'Bluetooth';
}

function yieldsPromise(a: Analysis, fn: Fn): boolean {
  return fn.modifiers.has('async') || a.resolver.resultOf(fn)?.name === 'Promise';
}

/** Whether a `try` with a catch that does not only throw again stands between a place and its function's edge. */
function isCaught(a: Analysis, at: Expr, home: Fn | Block): boolean {
  for (let node: AnyNode | undefined = at, below: AnyNode = at; node && node !== home; below = node, node = a.program.parentOf(node)) {
    if (node.kind === 'Try' && node.body === below && node.catches.some(c => !throwsAgain(c.body))) return true;
  }
  return false;
}

function throwsAgain(block: Block): boolean {
  return block.stmts.at(-1)?.kind === 'Throw';
}
