/**
 * Which calls wait for something: a call that may let a running operation complete ends what is provably in flight.
 * Sleeping is told apart: time passes, but nothing says that the operation is done. In TypeScript only `await` waits, and
 * that is no call.
 */
import type { Call, Expr, Fn, Loop } from '../ir/ir.js';
import { walk } from '../ir/walk.js';
import type { Analysis } from './analysis.js';
import { isLogCall } from './roles.js';
import { runOf } from './runs.js';

/** `waits`: something else must happen first. `sleeps`: only time passes. */
export type Wait = 'waits' | 'sleeps' | 'no';

const SLEEPING = /^(?:delay|sleep|sleepMillis|parkNanos)$/;
/** Names that wait whatever they are called on: nobody calls something else by them. common practice, no source */
const WAITING = /^(?:(?:await|wait|block|pause)(?:[A-Z]\w*)?|joinAll|receive|receiveCatching|suspend\w*Coroutine|withTimeout(?:OrNull)?|tryAcquire|acquire|acquireUninterruptibly|runBlocking|\w+(?:AndWait|Blocking|Await|Synchronously))$/;

export function waitOf(a: Analysis, call: Call): Wait {
  return a.once<Call, Wait>('wait', call, 'no', () => {
    if (a.fileOf(call)?.language !== 'kotlin') return 'no';
    const name = a.calleeName(call);
    if (name !== undefined && SLEEPING.test(name)) return 'sleeps';
    const callee = a.resolver.calleeOf(call);
    if (callee.fns.length > 0) {
      const inner = callee.fns.map(fn => waitIn(a, fn));
      return inner.includes('waits') ? 'waits' : inner.includes('sleeps') ? 'sleeps' : 'no';
    }
    if (callee.members.some(member => member.sync === 'waits' || member.sync === 'locks')) return 'waits';
    const last = call.args.at(-1)?.value;
    const runner = last && runOf(a, call, last)?.runner;
    // `withContext { }` waits for what its lambda does, and that stands in the text; a flow's values come from elsewhere.
    if (runner) return runner.waits === 'resume' || (runner.on === 'Flow' && runner.runs === 'now-many') ? 'waits' : 'no';
    if (callee.members.length > 0 || callee.constructs || name === undefined) return 'no';
    if (WAITING.test(name)) return 'waits';
    return mayBeSuspending(a, call) ? 'waits' : 'no';
  });
}

/** Where a function may suspend, a call of something unknown may suspend until anything. */
function mayBeSuspending(a: Analysis, call: Call): boolean {
  if (!isSuspending(a, call) || isLogCall(a, call)) return false;
  // Statics of the general libraries. common practice, no source
  if (call.callee.kind === 'Member' && call.callee.object.kind === 'Name' && /^(?:Random|Math|System|Arrays|Collections|Integer|Byte|Long|String|Json|Gson|Date|Calendar|Locale|Build|Timber|Toast|Uri|Base64|ByteBuffer|Instant)$/.test(call.callee.object.name)) return false;
  const on = a.resolver.calleeOf(call).receiver?.ty?.name;
  return on === undefined || !/^(?:number|string|boolean|bytes|list|set|map|UUID|Handler|Context|Intent|Log|any)$/.test(on);
}

/** Builders of coroutines: their lambdas may suspend. common practice, no source */
const BUILDERS = /^(?:launch\w*|async|runBlocking|withContext|coroutineScope|supervisorScope|flow|callbackFlow|channelFlow|produce|actor|collect\w*|onEach|LaunchedEffect|produceState|liveData|withTimeout(?:OrNull)?|withLock)$/;

export function isSuspending(a: Analysis, node: Call): boolean {
  for (let fn = a.program.enclosingFn(node); fn; fn = a.program.enclosingFn(fn)) {
    if (fn.modifiers.has('suspend')) return true;
    const lambda = a.program.parentOf(fn);
    const call = lambda?.kind === 'Lambda' ? a.program.parentOf(lambda) : undefined;
    if (call?.kind === 'Call' && BUILDERS.test(a.calleeName(call) ?? '')) return true;
    if (!a.isInlined(fn)) return false;
  }
  return false;
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

/** A loop whose rounds come when somebody sends the next value: a channel, a flow, an asynchronous iteration. */
export function isToldEach(a: Analysis, loop: Loop | Expr): boolean {
  if (loop.kind === 'Call') return TELLING.test(a.calleeName(loop) ?? '') && loop.callee.kind === 'Member' && !/^(?:list|set|map|string|Sequence)$/.test(a.resolver.typeOf(loop.callee.object)?.name ?? '');
  if (loop.kind !== 'Loop' || !loop.over) return false;
  return loop.over.awaited === true || /Channel$|^Flow$/.test(a.resolver.typeOf(loop.over.source)?.name ?? '');
}

/** Functions that run a lambda for each value that is sent. common practice, no source */
const TELLING = /^(?:collect(?:Latest|Indexed)?|consumeEach)$/;
