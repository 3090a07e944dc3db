/**
 * What serialises operations in this project: the functions that the profile names, and queues that the code itself
 * builds (`queue-collections.ts`, `queue-locks.ts`). The answer is per function: whether a queue runs it, and whether it is
 * sure that the queue waits, so that going past it is a fault. Pacing by timers is not a queue.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { takersOf } from './carried.js';
import { collectedIn, collectedObjects, collectionsOf, feedersOf, pumpOf, type CollectionQueue } from './queue-collections.js';
import { isTail, limiterOf, lockHeldAt, messageOf, serialRun, sinkOf, type Serial } from './queue-locks.js';
import { runOf, runOfLambda } from './runs.js';
import type { Started } from './starting.js';
import { flightOf } from './inflight.js';
import { waysTo, type Interceptor, type Start, type Way } from './ways.js';

export interface Queue extends Serial {
  /** The profile names it: everything has to go through it. */
  readonly declared?: true;
}

/** The queue that runs a function; undefined: none that is known. */
export function queueOf(a: Analysis, fn: Fn): Queue | undefined {
  return a.once<Fn, Queue | undefined>('queue-of', fn, undefined, () => declared(a, fn) ?? runnerQueue(a, fn) ?? sinkOf(a, fn) ?? messageOf(a, fn) ?? valueQueue(a, fn));
}

function declared(a: Analysis, fn: Fn): Queue | undefined {
  const name = a.nameIn(a.words.queue, fn);
  return name === undefined ? undefined : { name, sure: true, declared: true };
}

function runnerQueue(a: Analysis, fn: Fn): Queue | undefined {
  const queue = collectionsOf(a).byRunner.get(fn);
  return queue && asQueue(a, queue);
}

/** A collection that nothing starts again is no queue: what it holds goes out as fast as somebody takes it. */
function asQueue(a: Analysis, queue: CollectionQueue): Queue | undefined {
  const { works, by } = pumpOf(a, queue);
  if (works === 'no') return undefined;
  const around = [...(queue.decl.is === 'platform' ? [] : [queue.decl.node]), ...by, ...feedersOf(a, queue)];
  return { name: queue.decl.name, sure: works === 'yes', around, ...(!queue.runnable && { payloads: true as const }) };
}

/** A lambda, reference or object that is handed to a queue. */
function valueQueue(a: Analysis, fn: Fn): Queue | undefined {
  const holder = a.program.parentOf(fn);
  if (holder?.kind === 'Lambda') {
    const direct = lambdaQueue(a, fn, holder);
    if (direct) return direct;
  }
  for (const { call, argument } of takersOf(a, fn)) {
    const found = givenQueue(a, call, argument, fn);
    if (found) return found;
  }
  const collected = holder?.kind === 'Class' ? collectedObjects(a, holder) : undefined;
  return collected && asQueue(a, collected);
}

function lambdaQueue(a: Analysis, fn: Fn, lambda: Expr): Queue | undefined {
  const run = runOfLambda(a, fn);
  if (run?.runner) {
    const serial = serialRun(a, run, fn);
    if (serial) return serial;
  }
  const collected = collectedIn(a, lambda);
  return collected && asQueue(a, collected);
}

function givenQueue(a: Analysis, call: Call, argument: Expr, fn: Fn): Queue | undefined {
  const run = runOf(a, call, argument);
  if (run?.runner) return serialRun(a, run, fn);
  const collected = collectedIn(a, argument);
  const queue = collected && asQueue(a, collected);
  if (queue) return queue;
  for (const callee of a.resolver.calleeOf(call).fns) {
    const param = callee.params.find(p => a.resolver.argumentFor(call, callee, p) === argument);
    const found = param && queueOfParam(a, callee, param);
    if (found) return found;
  }
  return declaredCall(a, call) ?? limiterOf(a, call);
}

/** A function that the profile names, of which the program holds no body: known by its class. */
function declaredCall(a: Analysis, call: Call): Queue | undefined {
  const name = a.calleeName(call);
  const type = a.resolver.calleeOf(call).receiver?.ty;
  const full = type && name !== undefined ? `${type.name}.${name}` : name;
  return full !== undefined && a.words.queue.has(full) ? { name: full, sure: true, declared: true } : undefined;
}

/** Whether a function hands a parameter on to a queue, or runs it inside one. */
function queueOfParam(a: Analysis, fn: Fn, param: Fn['params'][number]): Queue | undefined {
  return a.once<unknown, Queue | undefined>('queue-of-param', param, undefined, () => {
    const named = declared(a, fn);
    if (named) return named;
    const decl = a.resolver.declFor(param);
    for (const read of decl ? a.resolver.readsOf(decl) : []) {
      const found = queueOfRead(a, fn, read);
      if (found) return found;
    }
    return undefined;
  });
}

function queueOfRead(a: Analysis, fn: Fn, read: Expr): Queue | undefined {
  const into = collectedIn(a, read);
  const queue = into && asQueue(a, into);
  if (queue) return queue;
  for (let inner = a.program.enclosingFn(read); inner && inner !== fn; inner = a.program.enclosingFn(inner)) {
    const around = queueOf(a, inner);
    if (around) return around;
  }
  const parent = a.program.parentOf(read);
  if (parent?.kind === 'Call' && parent.callee !== read) {
    const run = runOf(a, parent, read);
    if (run?.runner && isTail(a, parent)) return { name: 'promise tail', sure: true };
    if (run?.runner?.order === 'mutual-exclusion' || (run?.runner?.order === 'after-previous' && a.fileOf(parent)?.language === 'typescript')) return { name: a.calleeName(parent) ?? 'lock', sure: true };
    if (run?.through) return queueOfParam(a, run.through.fn, run.through.param);
    const limiter = limiterOf(a, parent);
    if (limiter) return limiter;
  }
  const place = parent?.kind === 'Call' ? parent : parent?.kind === 'Member' ? a.program.parentOf(parent) : undefined;
  return place ? lockHeldAt(a, fn, place) : undefined;
}

// ---- On the way ---------------------------------------------------------

/** Stops the way up at whatever a queue runs, and where a lock is held. */
export const byQueue = (a: Analysis): Interceptor => (fn, node): Start | undefined => {
  const queue = queueOf(a, fn) ?? lockHeldAt(a, fn, node);
  return queue && { is: 'queue', fn, name: queue.name, sure: queue.sure, ...(queue.around && { around: queue.around }), ...(queue.payloads && { payloads: true as const }) };
};

/** All ways to a place, those through a queue marked as such. */
export function waysThroughQueues(a: Analysis, node: AnyNode): readonly Way[] {
  return a.once('ways', node, [], () => waysTo(a, node, byQueue(a)));
}

/** What a call hands to a queue that starts it at once when nothing else is under way. */
export function enqueuedBy(a: Analysis, call: Call): { readonly queue: string; readonly started: Started } | undefined {
  return a.once<Call, { queue: string; started: Started } | undefined>('enqueued-by', call, undefined, () => {
    for (const { value } of call.args) {
      if (value.kind === 'Literal' || value.kind === 'Name') continue;
      for (const fn of a.resolver.functionValue(value) ?? []) {
        const queue = queueOf(a, fn);
        const [started] = queue?.sure && startsQueue(a, call) ? flightOf(a, fn).first : [];
        if (queue && started) return { queue: queue.name, started };
      }
    }
    return undefined;
  });
}

/** Whether a call starts what waits in a queue: a runner can be reached from it by plain calls. */
export function startsQueue(a: Analysis, call: Call): boolean {
  return a.resolver.calleeOf(call).fns.some(fn => reachesRunner(a, fn));
}

function reachesRunner(a: Analysis, fn: Fn): boolean {
  return a.once<Fn, boolean>('reaches-runner', fn, false, () => {
    if (collectionsOf(a).byRunner.has(fn)) return true;
    let found = false;
    if (!fn.body) return false;
    a.eachBelow(fn.body, node => {
      if (node.kind === 'Call' && startsQueue(a, node)) found = true;
      return found ? 'skip' : undefined;
    });
    return found;
  });
}
