/**
 * What serialises operations without a collection: a lock that is held until the answer has come, a promise tail, and the
 * known functions that run one after the other. A lock that is given back while the operation is still in flight is none,
 * and neither is a thread: handing to a thread keeps the order of starting, nothing more.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import type { Graph, Step } from '../flow/graph.js';
import { solve } from '../flow/solve.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { runOfLambda, type Run } from './runs.js';
import { waitIn } from './waits.js';

/** How a function that something is handed to serialises it, by the name of what does. */
export interface Serial {
  readonly name: string;
  /** Whether it is seen that each waits for the one before. */
  readonly sure: boolean;
  /** Places in the classes that have to do with the queue: where it stands, is filled, and is started again. */
  readonly around?: readonly AnyNode[];
  /** It holds mere payloads, for one attribute. */
  readonly payloads?: true;
}

/** What serialises the runs of a lambda, from the call that it is given to. */
export function serialRun(a: Analysis, run: Run, fn: Fn): Serial | undefined {
  const { call, runner } = run;
  if (!runner) return undefined;
  if (isTail(a, call)) return { name: nameOfTail(call), sure: true };
  const isWeb = a.fileOf(call)?.language === 'typescript';
  const name = lockName(call);
  if (runner.order === 'mutual-exclusion') {
    if (isWeb) return { name, sure: true };
    const sure = waitIn(a, fn) === 'waits';
    return sure || (invokesGiven(a, fn) && call.callee.kind === 'Member') ? { name, sure } : undefined;
  }
  if (runner.order === 'after-previous') return isWeb ? { name, sure: true } : undefined;
  // A single thread that waits for each answer before it takes the next.
  if (/^(?:execute|submit|post)$/.test(runner.name) && waitIn(a, fn) === 'waits') return { name, sure: true };
  return undefined;
}

/** Other people's queues that take a function and run one after the other. common practice, no source */
const LIMITERS = /^(?:pLimit|throat|queue|fastq|Mutex|AsyncLock|Bottleneck|PQueue|Queue)$/;

/** `const limit = pLimit(1)`, `limit(() => …)`: a function value of a library made for it. */
export function limiterOf(a: Analysis, call: Call): Serial | undefined {
  const { callee } = call;
  for (const object of callee.kind === 'Member' ? [callee, callee.object] : [callee]) {
    const made = object.kind === 'Name' || object.kind === 'Member' ? madeBy(a, object) : undefined;
    if (made !== undefined && LIMITERS.test(made) && (object.kind === 'Name' || object.kind === 'Member')) return { name: object.name, sure: true };
  }
  return undefined;
}

/** The name of what a variable was made with, where that is nothing of the project's own. */
function madeBy(a: Analysis, object: Expr & { kind: 'Name' | 'Member' }): string | undefined {
  const decl = a.resolver.declOf(object);
  const initial = decl?.is === 'field' ? decl.node.initial : decl?.is === 'local' && decl.node.kind === 'Let' ? decl.node.value : undefined;
  return initial?.kind === 'Call' && a.resolver.calleeOf(initial).fns.length === 0 ? a.calleeName(initial) : undefined;
}

/** Runs what it was given itself, and so whatever it waits for. */
function invokesGiven(a: Analysis, fn: Fn): boolean {
  let found = false;
  if (fn.body) {
    a.eachBelow(fn.body, node => {
      const value = node.kind === 'Call' ? a.resolver.calleeOf(node).value : undefined;
      if (value && value.kind === 'Param') found = true;
      return found ? 'skip' : undefined;
    });
  }
  return found;
}

function lockName(call: Call): string {
  const { callee } = call;
  if (callee.kind !== 'Member') return callee.kind === 'Name' ? callee.name : 'lock';
  return callee.object.kind === 'Name' || callee.object.kind === 'Member' ? callee.object.name : callee.name;
}

// ---- Promise tails ------------------------------------------------------

/** `tail.then(fn)` where `tail` is a field or an outer variable that is assigned again from such a chain. */
export function isTail(a: Analysis, call: Call): boolean {
  const decl = chainStart(a, call);
  return decl !== undefined && (decl.is === 'field' || decl.is === 'local') && a.resolver.writesTo(decl).some(write => write.kind === 'Assign');
}

function chainStart(a: Analysis, call: Call): Decl | undefined {
  let at: Expr = call;
  while (at.kind === 'Call' && at.callee.kind === 'Member' && ['then', 'catch', 'finally'].includes(at.callee.name)) at = at.callee.object;
  return at !== call && (at.kind === 'Name' || at.kind === 'Member') ? a.resolver.declOf(at) : undefined;
}

function nameOfTail(call: Call): string {
  let at: Expr = call;
  while (at.kind === 'Call' && at.callee.kind === 'Member') at = at.callee.object;
  return at.kind === 'Name' || at.kind === 'Member' ? at.name : 'promise tail';
}

// ---- Locks taken on the way ---------------------------------------------

/** The lock that is held wherever control gets to a place of a function: taken before, and not given back. */
export function lockHeldAt(a: Analysis, fn: Fn, node: AnyNode): Serial | undefined {
  const home = a.home(node);
  const within = home?.kind === 'Fn' && home !== fn && a.isInlined(fn) ? home : fn;
  const locks = a.once<Fn, ReadonlyMap<Step, string> | undefined>('locks-held', within, undefined, () => locksOf(a, within));
  if (!locks) return undefined;
  const graph = a.graph(within);
  const steps = node.kind === 'Call' || node.kind === 'Lambda' ? graph?.stepsOf(node) ?? [] : [];
  const names = steps.map(step => locks.get(step)).filter(name => name !== undefined && name !== '');
  return steps.length > 0 && names.length === steps.length ? { name: names[0]!, sure: true } : undefined;
}

/** Before each step, the lock that is held on every way; empty: none. */
function locksOf(a: Analysis, fn: Fn): ReadonlyMap<Step, string> | undefined {
  let taken = false;
  if (!fn.body) return undefined;
  a.eachBelow(fn.body, node => {
    if (node.kind === 'Call' && lockTaken(a, node) !== undefined) taken = true;
    if (node.kind === 'Await' && turnAwaited(a, fn, node.value) !== undefined) taken = true;
    return taken ? 'skip' : undefined;
  });
  const graph: Graph | undefined = taken ? a.graph(fn) : undefined;
  return graph && solve<string>(graph, {
    entry: '',
    step: ({ node }, state) => {
      if (node?.kind === 'Await') return turnAwaited(a, fn, node.value) ?? state;
      if (node?.kind !== 'Call') return state;
      if (isUnlock(a, node)) return '';
      return lockTaken(a, node) ?? state;
    },
    join: (x, y) => (x === y ? x : ''),
    equal: (x, y) => x === y,
  });
}

/** Classes of a project's own, or of a library, that are locks by their name. common practice, no source */
const LOCK_CLASS = /mutex|semaphore|lock$/i;

function lockTaken(a: Analysis, call: Call): string | undefined {
  if (call.callee.kind !== 'Member' || !/^(?:lock|acquire|acquireUninterruptibly|tryAcquire|tryLock|take)$/.test(call.callee.name)) return undefined;
  const callee = a.resolver.calleeOf(call);
  if (callee.members.some(member => member.sync === 'locks')) return lockName(call);
  const { object } = call.callee;
  const type = callee.receiver?.ty?.name ?? (object.kind === 'Name' || object.kind === 'Member' ? madeBy(a, object) : undefined);
  return type !== undefined && LOCK_CLASS.test(type) ? lockName(call) : undefined;
}

function isUnlock(a: Analysis, call: Call): boolean {
  if (call.callee.kind !== 'Member' || !/^(?:unlock|release)$/.test(call.callee.name)) return false;
  const callee = a.resolver.calleeOf(call);
  return callee.members.some(member => member.sync === 'unlocks') || LOCK_CLASS.test(callee.receiver?.ty?.name ?? '');
}

/** `const before = this.turn; this.turn = new Promise(…); await before;`: the turn of the one before, and a new one for the next. */
function turnAwaited(a: Analysis, fn: Fn, value: Expr): string | undefined {
  const decl = value.kind === 'Name' || value.kind === 'Member' ? turnOf(a, value) : undefined;
  if (!decl) return undefined;
  const renewed = a.resolver.writesTo(decl).some(write => write.kind === 'Assign' && a.home(write) === fn && write.value.kind !== 'Literal');
  return renewed && a.resolver.typeOf(value)?.name === 'Promise' ? decl.name : undefined;
}

function turnOf(a: Analysis, value: Expr & { kind: 'Name' | 'Member' }): Decl | undefined {
  const decl = a.resolver.declOf(value);
  if (decl?.is === 'field') return decl;
  const initial = decl?.is === 'local' && decl.node.kind === 'Let' && decl.binding?.path.length === 0 ? decl.node.value : undefined;
  if (initial?.kind !== 'Name' && initial?.kind !== 'Member') return decl?.is === 'local' && a.home(decl.node) !== a.home(value) ? decl : undefined;
  return turnOf(a, initial);
}

// ---- Streams that wait for each write -----------------------------------

/** The method of a sink that a stream calls for each chunk, one after the other. Streams Standard, WritableStream. */
export function sinkOf(a: Analysis, fn: Fn): Serial | undefined {
  const cls = a.program.ownerOf(fn) ?? classOfLambdaField(a, fn);
  const object = cls && a.program.parentOf(cls);
  const call = object?.kind === 'ObjectExpr' ? a.program.parentOf(object) : undefined;
  const name = call?.kind === 'Call' ? a.calleeName(call) : undefined;
  return name === 'WritableStream' || name === 'TransformStream' ? { name, sure: true } : undefined;
}

function classOfLambdaField(a: Analysis, fn: Fn) {
  const lambda = a.program.parentOf(fn);
  const field = lambda && a.program.parentOf(lambda);
  return field?.kind === 'Field' ? a.program.ownerOf(field) : undefined;
}

/** A handler that is sent one message after the other, each of which starts the next. */
export function messageOf(a: Analysis, fn: Fn): Serial | undefined {
  if (fn.name === 'handleMessage') return { name: 'message handler', sure: false };
  const run = runOfLambda(a, fn);
  return run?.runner?.name === 'Handler' ? { name: 'message handler', sure: false } : undefined;
}
