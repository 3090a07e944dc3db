/**
 * What serialises operations in this project: the functions that the profile names, and queues that the code itself
 * builds. A queue of the code's own is one of
 *
 * - a collection that one function fills and one runner empties, running what it takes or starting an operation for it;
 * - a lock held around what it is given (`Mutex`, semaphore, navigator.locks);
 * - a promise tail: `tail = tail.then(…)`.
 *
 * The answer is per function: whether a queue runs it. Pacing by timers is not a queue.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { runOf, runOfLambda } from './runs.js';
import { waysTo, type Interceptor, type Start, type Way } from './ways.js';

const PUTS = new Set(['add', 'addLast', 'addFirst', 'offer', 'offerLast', 'offerFirst', 'put', 'push', 'send', 'trySend', 'trySendBlocking', 'plusAssign', 'enqueue', 'unshift', 'addAll', 'emit', 'tryEmit']);
const TAKES = ['poll', 'pollFirst', 'pollLast', 'remove', 'removeFirst', 'removeFirstOrNull', 'removeLast', 'removeAt', 'pop', 'take', 'takeFirst', 'receive', 'receiveCatching', 'tryReceive', 'shift', 'consumeEach', 'dequeue', 'receiveAsFlow', 'consumeAsFlow'];
const LOCKS = new Set(['lock', 'acquire', 'withLock', 'withPermit', 'acquireUninterruptibly', 'tryAcquire']);

/** Waits for the queue's collections to be found once for the whole program. */
interface Collections {
  /** Collections that are filled and emptied, by what holds them. */
  readonly taken: ReadonlyMap<Decl, ReadonlySet<Fn>>;
  readonly runners: ReadonlyMap<Fn, Decl>;
}

/** The queue that runs a function, by its name; undefined: none that is known. */
export function queueOf(a: Analysis, fn: Fn): string | undefined {
  return a.once<Fn, string | undefined>('queue-of', fn, undefined, () => {
    const declared = a.nameIn(a.words.queue, fn);
    if (declared !== undefined) return declared;
    const { runners } = collections(a);
    const runner = runners.get(fn);
    if (runner) return runner.name;
    return a.program.parentOf(fn)?.kind === 'Lambda' ? queueOfLambda(a, fn) : undefined;
  });
}

/** Stops the way up at whatever a queue runs. */
export const byQueue = (a: Analysis): Interceptor => (fn): Start | undefined => {
  const name = queueOf(a, fn);
  return name === undefined ? undefined : { is: 'queue', fn, name };
};

/** All ways to a place, those through a queue marked as such. */
export function waysThroughQueues(a: Analysis, node: AnyNode): readonly Way[] {
  return a.once('ways', node, [], () => waysTo(a, node, byQueue(a)));
}

// ---- Lambdas that a queue runs ------------------------------------------

function queueOfLambda(a: Analysis, fn: Fn): string | undefined {
  const lambda = a.program.parentOf(fn) as Expr;
  const run = runOfLambda(a, fn);
  if (run?.runner?.order) return a.calleeName(run.call);
  if (run?.runner && isTail(a, run.call)) return 'promise tail';
  if (run?.through) return queueOfParam(a, run.through.fn, run.through.param);
  return collectionOf(a, lambda)?.name;
}

/** `tail.then(fn)` where `tail` is a field or module variable that is assigned again from such a chain. */
function isTail(a: Analysis, call: Call): boolean {
  if (call.callee.kind !== 'Member' || !['then', 'finally', 'catch'].includes(call.callee.name)) return false;
  let object = call.callee.object;
  while (object.kind === 'Call' && object.callee.kind === 'Member' && ['then', 'catch', 'finally'].includes(object.callee.name)) object = object.callee.object;
  if (object.kind !== 'Name' && object.kind !== 'Member') return false;
  const decl = a.resolver.declOf(object);
  if (!decl || (decl.is !== 'field' && decl.is !== 'local')) return false;
  return a.resolver.writesTo(decl).some(write => write.kind === 'Assign');
}

/** Whether a function hands a parameter on to a queue, or runs it inside one. */
function queueOfParam(a: Analysis, fn: Fn, param: Fn['params'][number]): string | undefined {
  return a.once<unknown, string | undefined>('queue-of-param', param, undefined, () => {
    const declared = a.nameIn(a.words.queue, fn);
    if (declared !== undefined) return declared;
    const decl = a.resolver.declFor(param);
    if (!decl) return undefined;
    for (const read of a.resolver.readsOf(decl)) {
      const found = queueOfRead(a, fn, read);
      if (found !== undefined) return found;
    }
    return undefined;
  });
}

function queueOfRead(a: Analysis, fn: Fn, read: Expr): string | undefined {
  const into = collectionOf(a, read);
  if (into) return into.name;
  for (let inner = a.program.enclosingFn(read); inner && inner !== fn; inner = a.program.enclosingFn(inner)) {
    const name = queueOf(a, inner);
    if (name !== undefined) return name;
  }
  const parent = a.program.parentOf(read);
  if (parent?.kind === 'Call' && parent.callee !== read) {
    const run = runOf(a, parent, read);
    if (run?.runner?.order) return a.calleeName(parent);
    if (run?.runner && isTail(a, parent)) return 'promise tail';
    if (run?.through) return queueOfParam(a, run.through.fn, run.through.param);
  }
  return lockBefore(a, fn, read);
}

/** `mutex.lock()` on the way to a place in the same function. */
function lockBefore(a: Analysis, fn: Fn, node: Expr): string | undefined {
  const graph = a.graph(fn);
  if (!graph) return undefined;
  for (const step of graph.steps) {
    if (step.node?.kind !== 'Call' || step.node.span.start >= node.span.start) continue;
    const name = a.calleeName(step.node);
    if (name !== undefined && LOCKS.has(name) && isLock(a, step.node)) return name;
  }
  return undefined;
}

const LOCK_TYPES = new Set(['Mutex', 'Semaphore', 'ReentrantLock', 'Lock', 'AutoMutex']);

export function isLock(a: Analysis, call: Call): boolean {
  const type = a.resolver.calleeOf(call).receiver?.ty?.name;
  return type !== undefined && LOCK_TYPES.has(type);
}

// ---- Collections that are filled and emptied ----------------------------

/** The queue's collection that a value ends up in: added to it, or kept in an object that is. */
function collectionOf(a: Analysis, value: Expr, depth = 0): Decl | undefined {
  if (depth > 6) return undefined;
  const parent = a.program.parentOf(value);
  if (!parent) return undefined;
  switch (parent.kind) {
    case 'Call': {
      if (parent.callee === value) return undefined;
      const name = a.calleeName(parent);
      if (name !== undefined && PUTS.has(name) && parent.callee.kind === 'Member') {
        const decl = holderOf(a, parent.callee.object);
        if (decl && collections(a).taken.has(decl)) return decl;
      }
      const callee = a.resolver.calleeOf(parent);
      if (callee.constructs) return collectionOf(a, parent, depth + 1);
      for (const fn of callee.fns) {
        const param = fn.params.find(p => a.resolver.argumentFor(parent, fn, p) === value);
        const decl = param && a.resolver.declFor(param);
        for (const read of decl ? a.resolver.readsOf(decl) : []) {
          const found = collectionOf(a, read, depth + 1);
          if (found) return found;
        }
      }
      return undefined;
    }
    case 'Assign': {
      if (parent.value !== value || (parent.target.kind !== 'Name' && parent.target.kind !== 'Member')) return undefined;
      const decl = a.resolver.declOf(parent.target);
      if (parent.op === '+' && decl && collections(a).taken.has(decl)) return decl;
      return undefined;
    }
    case 'Let': {
      const decl = parent.bindings.length === 1 ? a.resolver.declFor(parent, parent.bindings[0]) : undefined;
      for (const read of decl ? a.resolver.readsOf(decl) : []) {
        const found = collectionOf(a, read, depth + 1);
        if (found) return found;
      }
      return undefined;
    }
    case 'Field': {
      // A function in an object literal: `queue.push({ run: () => … })`.
      const cls = a.program.ownerOf(parent);
      const object = cls && a.program.parentOf(cls);
      return object?.kind === 'ObjectExpr' ? collectionOf(a, object, depth + 1) : undefined;
    }
    case 'Cast': case 'Choose': case 'Binary': case 'Yield': case 'Await': return parent.kind === 'Yield' ? undefined : collectionOf(a, parent, depth + 1);
    default: return undefined;
  }
}

function holderOf(a: Analysis, expr: Expr): Decl | undefined {
  if (expr.kind !== 'Name' && expr.kind !== 'Member') return undefined;
  const decl = a.resolver.declOf(expr);
  return decl?.is === 'field' || decl?.is === 'local' ? decl : undefined;
}

const COLLECTION_TYPES = /^(?:list|set|map|Channel|SendChannel|ReceiveChannel|MutableSharedFlow|SharedFlow|.*(?:Queue|Deque|List|Stack))$/;

function collections(a: Analysis): Collections {
  return a.once<string, Collections>('collections', '', { taken: new Map(), runners: new Map() }, () => {
    const taken = new Map<Decl, Set<Fn>>();
    const runners = new Map<Fn, Decl>();
    for (const name of TAKES) {
      for (const call of a.program.callsNamed(name)) {
        if (call.callee.kind !== 'Member') continue;
        // `list.remove(x)` takes a known thing out; a queue gives what it has.
        if ((name === 'remove' && call.args.length > 0) || (name === 'removeAt' && !isFirst(a, call))) continue;
        const decl = holderOf(a, call.callee.object);
        if (!decl || !isCollection(a, call.callee.object) || !isFilled(a, decl)) continue;
        note(a, decl, call, taken, runners);
      }
    }
    for (const loop of channelLoops(a)) note(a, loop.decl, loop.at, taken, runners);
    return { taken, runners };
  });
}

function note(a: Analysis, decl: Decl, at: Expr, taken: Map<Decl, Set<Fn>>, runners: Map<Fn, Decl>): void {
  const home = a.home(at);
  if (home?.kind !== 'Fn') return;
  runners.set(home, decl);
  const known = taken.get(decl);
  if (known) known.add(home);
  else taken.set(decl, new Set([home]));
}

function isFirst(a: Analysis, call: Call): boolean {
  const at = call.args[0];
  return at !== undefined && a.resolver.constants.whole(at.value) === 0;
}

function isCollection(a: Analysis, expr: Expr): boolean {
  const type = a.resolver.typeOf(expr);
  return type === undefined || COLLECTION_TYPES.test(type.name) || COLLECTION_TYPES.test(type.platform?.name ?? '-');
}

function isFilled(a: Analysis, decl: Decl): boolean {
  return a.resolver.readsOf(decl).some(read => {
    const member = a.program.parentOf(read);
    const call = member?.kind === 'Member' && member.object === read ? a.program.parentOf(member) : undefined;
    return call?.kind === 'Call' && call.callee === member && member?.kind === 'Member' && PUTS.has(member.name);
  }) || a.resolver.writesTo(decl).some(write => write.kind === 'Assign' && write.op === '+');
}

/** `for (op in channel)`: one consumer takes one after the other. */
function channelLoops(a: Analysis): readonly { readonly decl: Decl; readonly at: Expr }[] {
  const found: { decl: Decl; at: Expr }[] = [];
  for (const name of ['send', 'trySend', 'trySendBlocking']) {
    for (const call of a.program.callsNamed(name)) {
      const decl = call.callee.kind === 'Member' ? holderOf(a, call.callee.object) : undefined;
      for (const read of decl ? a.resolver.readsOf(decl) : []) {
        const parent = a.program.parentOf(read);
        if (decl && parent?.kind === 'Loop' && parent.over?.source === read) found.push({ decl, at: read });
      }
    }
  }
  return found;
}
