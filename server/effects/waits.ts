/**
 * Which calls wait for something: a call that may let a running operation complete ends what is provably in flight.
 * Sleeping is told apart: time passes, but nothing says that the operation is done.
 */
import type { Call, Fn } from '../ir/ir.js';
import { walk } from '../ir/walk.js';
import type { Analysis } from './analysis.js';
import { runOf } from './runs.js';

/** `waits`: something else must happen first. `sleeps`: only time passes. */
export type Wait = 'waits' | 'sleeps' | 'no';

/** Blocking or suspending members by the type that has them. */
const WAITING = new Map<string, readonly string[]>(Object.entries({
  await: ['Deferred', 'CompletableDeferred', 'CountDownLatch', 'Condition', 'CyclicBarrier'],
  join: ['Job', 'Thread', 'Deferred', 'CompletableJob'],
  receive: ['Channel', 'ReceiveChannel'],
  receiveCatching: ['Channel', 'ReceiveChannel'],
  take: ['LinkedBlockingQueue', 'ArrayBlockingQueue', 'BlockingQueue', 'SynchronousQueue', 'LinkedBlockingDeque'],
  acquire: ['Semaphore'],
  acquireUninterruptibly: ['Semaphore'],
  tryAcquire: ['Semaphore'],
  lock: ['Mutex', 'ReentrantLock', 'Lock'],
  get: ['Future', 'CompletableFuture'],
  wait: ['Object', 'any'],
}));
/** Names that wait whatever they are called on: nobody calls something else by them. common practice, no source */
const WAITING_NAMES = /^(?:await\w*|joinAll|waitFor\w*|first|firstOrNull|single|collect|collectLatest|receive\w*|suspend\w*Coroutine|withTimeout(?:OrNull)?|tryAcquire|acquire|exchange|select|runBlocking)$/;
const SLEEPING = /^(?:delay|sleep|postDelayed|wait|sleepMillis)$/;

export function waitOf(a: Analysis, call: Call): Wait {
  return a.once<Call, Wait>('wait', call, 'no', () => {
    const name = a.calleeName(call);
    const callee = a.resolver.calleeOf(call);
    if (callee.fns.length > 0) {
      const inner = callee.fns.map(fn => waitIn(a, fn));
      return inner.includes('waits') ? 'waits' : inner.includes('sleeps') ? 'sleeps' : 'no';
    }
    if (name === undefined) return 'no';
    if (SLEEPING.test(name) && name !== 'postDelayed') return 'sleeps';
    const type = callee.receiver?.ty?.name;
    if (type !== undefined && WAITING.get(name)?.includes(type)) return 'waits';
    const last = call.args.at(-1)?.value;
    if (last && runOf(a, call, last)?.runner?.waits) return 'waits';
    if (WAITING_NAMES.test(name)) return 'waits';
    // Inside a suspending function, an unknown function may suspend until anything.
    return callee.members.length === 0 && !callee.constructs && inSuspend(a, call) ? 'waits' : 'no';
  });
}

/** Whether a function of the project may wait before it returns. */
export function waitIn(a: Analysis, fn: Fn): Wait {
  return a.once<Fn, Wait>('wait-in', fn, 'no', () => {
    let found: Wait = 'no';
    const see = (wait: Wait): void => { if (wait === 'waits' || (wait === 'sleeps' && found === 'no')) found = wait; };
    if (!fn.body) return fn.modifiers.has('suspend') ? 'waits' : 'no';
    walk(fn.body, node => {
      if (found === 'waits') return 'skip';
      if (node.kind === 'Await') see('waits');
      if (node.kind === 'Fn' && !a.isInlined(node)) return 'skip';
      if (node.kind === 'Call') see(waitOf(a, node));
      return undefined;
    });
    return found;
  });
}

function inSuspend(a: Analysis, call: Call): boolean {
  const home = a.home(call);
  return home?.kind === 'Fn' && home.modifiers.has('suspend');
}
