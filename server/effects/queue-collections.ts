/**
 * Queues that are a collection: one function fills it, a runner takes from it and runs what it took, or starts an operation
 * with it, and completion starts the runner again. A collection of data that somebody happens to take from is none.
 */
import type { AnyNode, Call, Class, Expr, Fn } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { leadsToOperation } from './busy-flags.js';
import { isChain } from './promises.js';
import { runOfLambda } from './runs.js';
import { isToldEach, waitIn } from './waits.js';
import { waysTo } from './ways.js';

export interface CollectionQueue {
  readonly decl: Decl;
  /** The functions that take from it and run what they took. */
  readonly runners: ReadonlySet<Fn>;
  /** It holds what can be run, so that any operation may go through it; not mere payloads of one kind. */
  readonly runnable: boolean;
}

/** Names of taking and giving over the collections of both languages; what has such a name must also be a collection. */
const TAKES = ['poll', 'pollFirst', 'pollLast', 'remove', 'removeFirst', 'removeFirstOrNull', 'removeLast', 'removeAt', 'pop', 'take', 'takeFirst', 'receive', 'receiveCatching', 'tryReceive', 'shift', 'splice', 'dequeue', 'consumeEach', 'collect', 'peek', 'peekFirst', 'first', 'firstOrNull', 'element'];
const PEEKS = new Set(['peek', 'peekFirst', 'first', 'firstOrNull', 'element']);
const PUTS = new Set(['add', 'addLast', 'addFirst', 'offer', 'offerLast', 'offerFirst', 'put', 'push', 'send', 'trySend', 'trySendBlocking', 'plusAssign', 'enqueue', 'unshift', 'addAll', 'emit', 'tryEmit']);
/** What a channel or flow is read through. */
const VIEWS = new Set(['receiveAsFlow', 'consumeAsFlow', 'asSharedFlow', 'asFlow', 'buffer', 'onEach']);
const COLLECTION = /^(?:list|set|map|Channel|SendChannel|ReceiveChannel|MutableSharedFlow|SharedFlow|Flow|.*(?:Queue|Deque|List|Stack))$/;

export interface Collections {
  readonly byDecl: ReadonlyMap<Decl, CollectionQueue>;
  readonly byRunner: ReadonlyMap<Fn, CollectionQueue>;
}

const NONE: Collections = { byDecl: new Map(), byRunner: new Map() };

/** Every collection of the program that serves as a queue of operations. */
export function collectionsOf(a: Analysis): Collections {
  return a.once<string, Collections>('collections', '', NONE, () => {
    const takings = new Map<Decl, Expr[]>();
    const note = (decl: Decl | undefined, taken: Expr): void => {
      if (decl) takings.set(decl, [...(takings.get(decl) ?? []), taken]);
    };
    for (const name of TAKES) for (const call of a.program.callsNamed(name)) note(takenFrom(a, call, name), call);
    for (const { decl, at } of channelLoops(a)) note(decl, at);
    const byDecl = new Map<Decl, CollectionQueue>();
    const byRunner = new Map<Fn, CollectionQueue>();
    for (const [decl, taken] of takings) {
      // Who only looks takes nothing.
      if (taken.every(each => each.kind === 'Call' && PEEKS.has(a.calleeName(each) ?? ''))) continue;
      const queue = queueOn(a, decl, taken);
      if (!queue) continue;
      byDecl.set(decl, queue);
      for (const runner of queue.runners) byRunner.set(runner, queue);
    }
    return { byDecl, byRunner };
  });
}

function takenFrom(a: Analysis, call: Call, name: string): Decl | undefined {
  if (call.callee.kind !== 'Member') return undefined;
  // `list.remove(x)` takes a known thing out, `first { }` searches; a queue gives what it has.
  if (['remove', 'first', 'firstOrNull', 'peek'].includes(name) && call.args.length > 0) return undefined;
  if ((name === 'removeAt' || name === 'splice') && !(call.args[0] && a.resolver.constants.whole(call.args[0].value) === 0)) return undefined;
  // Who collects is told of one after the other; that makes a queue only where it waits for each to be done.
  if (name === 'collect' || name === 'consumeEach') {
    const body = call.args.at(-1)?.value;
    if (body?.kind !== 'Lambda' || waitIn(a, body.fn) !== 'waits') return undefined;
  }
  const decl = holderOf(a, call.callee.object);
  const type = decl && a.resolver.typeOf(call.callee.object);
  const isCollection = type === undefined || COLLECTION.test(type.name) || COLLECTION.test(type.platform?.name ?? '-');
  return decl && isCollection && isFilled(a, decl) ? decl : undefined;
}

function holderOf(a: Analysis, expr: Expr): Decl | undefined {
  if (expr.kind === 'Call' && expr.callee.kind === 'Member' && VIEWS.has(expr.callee.name)) return holderOf(a, expr.callee.object);
  if (expr.kind !== 'Name' && expr.kind !== 'Member') return undefined;
  const decl = a.resolver.declOf(expr);
  if (decl?.is !== 'field' && decl?.is !== 'local') return undefined;
  // `val commands = _commands.asSharedFlow()`: the same collection, seen from its end.
  const initial = decl.is === 'field' ? decl.node.initial : decl.node.kind === 'Let' ? decl.node.value : undefined;
  return (initial?.kind === 'Call' && holderOf(a, initial)) || decl;
}

function isFilled(a: Analysis, decl: Decl): boolean {
  return a.once<Decl, boolean>('is-filled', decl, false, () => a.resolver.readsOf(decl).some(read => {
    const member = a.program.parentOf(read);
    const call = member?.kind === 'Member' && member.object === read ? a.program.parentOf(member) : undefined;
    return call?.kind === 'Call' && call.callee === member && member?.kind === 'Member' && PUTS.has(member.name);
  }) || a.resolver.writesTo(decl).some(write => (write.kind === 'Assign' && write.op === '+') || isList(write.value)) || (decl.is === 'field' && isList(decl.node.initial)));
}

const isList = (value: Expr | undefined): boolean => (value?.kind === 'ListExpr' && value.items.length > 0) || (value?.kind === 'Call' && value.args.length > 0 && value.args.every(arg => arg.value.kind === 'Lambda' || arg.value.kind === 'Call'));

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

// ---- Runners ------------------------------------------------------------

function queueOn(a: Analysis, decl: Decl, takings: readonly Expr[]): CollectionQueue | undefined {
  const runners = new Set<Fn>();
  let runnable = false;
  for (const taking of takings) {
    for (const { fn, how } of runnersFrom(a, taking)) {
      if (how === 'data') continue;
      runners.add(fn);
      runnable ||= how === 'runs';
    }
  }
  return runners.size > 0 ? { decl, runners, runnable } : undefined;
}

type How = 'runs' | 'sends' | 'data';

/** Who runs what was taken: the function that took it, or the one that it gives it to. */
function runnersFrom(a: Analysis, taking: Expr, depth = 0): readonly { readonly fn: Fn; readonly how: How }[] {
  const home = bodyOf(a, taking) ?? a.home(taking);
  if (home?.kind !== 'Fn' || depth > 3) return [];
  const elements = elementsOf(a, taking);
  const how = elements.map(element => treatmentOf(a, element));
  if (how.includes('runs')) return [{ fn: home, how: 'runs' }];
  if (how.includes('sends')) return [{ fn: home, how: 'sends' }];
  const returned = elements.some(element => a.program.parentOf(element)?.kind === 'Return');
  return returned ? a.resolver.callersOf(home).flatMap(call => runnersFrom(a, call, depth + 1)) : [];
}

/** `commands.collect { … }`: the lambda is what runs each. */
function bodyOf(a: Analysis, taking: Expr): Fn | undefined {
  const body = taking.kind === 'Call' && isToldEach(a, taking) ? taking.args.at(-1)?.value : undefined;
  return body?.kind === 'Lambda' ? body.fn : undefined;
}

/** The expressions that stand for what was taken: the call itself, the reads of the local or lambda parameter that holds it. */
function elementsOf(a: Analysis, taking: Expr): readonly Expr[] {
  const found: Expr[] = [taking];
  const readsOf = (decl: Decl | undefined): void => { if (decl) found.push(...a.resolver.readsOf(decl)); };
  for (let node: AnyNode | undefined = a.program.parentOf(taking), below: AnyNode = taking; node; below = node, node = a.program.parentOf(node)) {
    if (node.kind === 'Let') { node.bindings.forEach(binding => readsOf(a.resolver.declFor(node as AnyNode & { kind: 'Let' }, binding))); break; }
    if (node.kind === 'Assign' && node.value === below && (node.target.kind === 'Name' || node.target.kind === 'Member')) { readsOf(a.resolver.declOf(node.target)); break; }
    if (node.kind === 'Loop' && node.over?.source === below) { node.over.bindings.forEach(binding => readsOf(a.resolver.declFor(node as AnyNode & { kind: 'Loop' }, binding))); break; }
    if (node.kind === 'Branch' && node.subject === below && node.subjectName !== undefined) { readsOf(a.resolver.declFor(node)); break; }
    // `queue.poll()?.let { it.run() }`, `channel.consumeEach { … }`: the lambda's parameter is what was taken.
    if (node.kind === 'Call' && node.callee.kind === 'Member' && (node === taking || node.callee === below)) intoLambda(a, node, readsOf, found);
    if (node.kind === 'Return') {
      // `synchronized(queue) { queue.poll() }` yields what was taken.
      const fn: Fn | undefined = a.program.enclosingFn(node);
      const run = fn && runOfLambda(a, fn);
      if (run?.runner?.yields !== 'lambda') break;
      node = run.call;
      continue;
    }
    if (node.kind === 'Call' && node.callee !== below) break;
    if (node.kind === 'ExprStmt' || node.kind === 'Block') break;
  }
  if (taking.kind === 'Call') intoLambda(a, taking, readsOf, found);
  return found;
}

function intoLambda(a: Analysis, call: Call, readsOf: (decl: Decl | undefined) => void, found: Expr[]): void {
  for (const { value } of call.args) {
    if (value.kind !== 'Lambda') continue;
    for (const param of value.fn.params) readsOf(a.resolver.declFor(param));
  }
  if (call.callee.kind === 'Member' && call.callee.safe) found.push(call);
}

/** What becomes of a taken element: it is run, an operation is started with it, or it is only looked at. */
function treatmentOf(a: Analysis, element: Expr, depth = 0): How {
  let below: AnyNode = element;
  for (let node = a.program.parentOf(element); node; below = node, node = a.program.parentOf(node)) {
    switch (node.kind) {
      case 'Call': {
        if (node.callee === below) return isRun(a, node, element) ? 'runs' : 'data';
        return passedOn(a, node, below as Expr, depth);
      }
      case 'Member': case 'Index': break;
      case 'Unary': case 'Cast': case 'Binary': case 'Await': break;
      // `when (op) { is Write -> … }`, `switch (op.kind)`: what is done depends on it.
      case 'Branch': return node.subject === below && leadsToOperationIn(a, node) ? 'runs' : 'data';
      case 'Assign': return node.value === below && node.target.kind === 'Member' && node.target.name === 'value' ? 'sends' : 'data';
      default: return 'data';
    }
  }
  return 'data';
}

/** `op()`, `op.run()`, `op.execute(gatt)`: a function value, or a method that starts operations. */
function isRun(a: Analysis, call: Call, element: Expr): boolean {
  if (call.callee === element) return true;
  const callee = a.resolver.calleeOf(call);
  if (callee.fns.length > 0) return callee.fns.some(fn => leadsToOperation(a, fn)) || callee.value !== undefined;
  if (callee.value !== undefined) return true;
  // `entry.start(link)`, where the property holds a function of which only the type is known.
  if (call.callee.kind === 'Member' && a.resolver.typeOf(call.callee)?.fn) return true;
  return call.callee.kind === 'Member' && /^(?:run|invoke|call|execute|accept)$/.test(call.callee.name);
}

function passedOn(a: Analysis, call: Call, argument: Expr, depth: number): How {
  const { fns, members } = a.resolver.calleeOf(call);
  if (members.some(member => member.does?.includes('starts-operation') || member.does?.includes('hints'))) return 'sends';
  for (const fn of fns) {
    const param = fn.params.find(p => a.resolver.argumentFor(call, fn, p) === argument);
    const decl = param && a.resolver.declFor(param);
    if (!decl || depth > 4) continue;
    const hows = a.resolver.readsOf(decl).map(read => treatmentOf(a, read, depth + 1));
    if (hows.includes('runs')) return 'runs';
    if (hows.includes('sends') || (fn.body && leadsToOperation(a, fn) && hows.length > 0)) return 'sends';
  }
  return 'data';
}

function leadsToOperationIn(a: Analysis, node: AnyNode): boolean {
  let found = false;
  a.eachBelow(node, each => {
    if (each.kind === 'Call' && (a.resolver.calleeOf(each).fns.some(fn => leadsToOperation(a, fn)) || a.resolver.calleeOf(each).members.some(m => m.does?.includes('starts-operation')))) found = true;
    return found ? 'skip' : undefined;
  });
  return found;
}

// ---- What starts the runner again ---------------------------------------

/** Callbacks that say that an operation has ended. AOSP BluetoothGattCallback. */
export const COMPLETIONS = /^(?:onCharacteristic(?:Read|Write)|onDescriptor(?:Read|Write)|onMtuChanged|onReadRemoteRssi|onReliableWriteCompleted|onPhyRead|onNotificationSent)$/;

/** What starts a queue's runner again. */
export interface Pump {
  /** Whether completion does, or the runner waits for it itself; `no` when its starts are known and none is. */
  readonly works: 'yes' | 'perhaps' | 'no';
  /** The callbacks of completion that do. */
  readonly by: readonly Fn[];
}

export function pumpOf(a: Analysis, queue: CollectionQueue): Pump {
  return a.once<CollectionQueue, Pump>('pump', queue, { works: 'perhaps', by: [] }, () => {
    const runners = [...queue.runners];
    const starts = runners.flatMap(runner => waysTo(a, runner.body ?? runner).map(way => way.start));
    const by = starts.flatMap(start => (start.is === 'callback' && COMPLETIONS.test(start.member.name) ? [start.fn] : []));
    if (by.length > 0 || runners.some(runner => waitIn(a, runner) === 'waits' || isChainedToItself(a, runner))) return { works: 'yes', by };
    return { works: starts.some(start => start.is === 'outside') ? 'perhaps' : 'no', by };
  });
}

/** `step().finally(() => this.next())`: the promise of what was taken starts the runner again. */
function isChainedToItself(a: Analysis, runner: Fn): boolean {
  return a.resolver.callersOf(runner).some(call => {
    for (let fn = a.program.enclosingFn(call); fn; fn = a.program.enclosingFn(fn)) {
      const lambda = a.program.parentOf(fn);
      const chain = lambda?.kind === 'Lambda' ? a.program.parentOf(lambda) : undefined;
      if (chain?.kind === 'Call' && isChain(chain) && isWithinFn(a, chain, runner)) return true;
    }
    return false;
  });
}

function isWithinFn(a: Analysis, node: AnyNode, fn: Fn): boolean {
  for (let up = a.program.enclosingFn(node); up; up = a.program.enclosingFn(up)) if (up === fn) return true;
  return false;
}

/** The functions that put something into a queue, and those that call them. */
export function feedersOf(a: Analysis, queue: CollectionQueue): readonly Fn[] {
  return a.once<CollectionQueue, readonly Fn[]>('feeders', queue, [], () => {
    const putters = a.resolver.readsOf(queue.decl).flatMap(read => {
      const member = a.program.parentOf(read);
      const home = member?.kind === 'Member' && PUTS.has(member.name) ? a.home(member) : undefined;
      return home?.kind === 'Fn' ? [home] : [];
    });
    const callers = putters.flatMap(fn => a.resolver.callersOf(fn)).flatMap(call => a.program.enclosingFn(call) ?? []);
    return [...new Set([...putters, ...callers])];
  });
}

// ---- What ends up in one ------------------------------------------------

/** The queue's collection that a value ends up in: added to it, or kept in an object that is. */
export function collectedIn(a: Analysis, value: Expr, depth = 0): CollectionQueue | undefined {
  if (depth > 8) return undefined;
  const parent = a.program.parentOf(value);
  const further = (next: Expr): CollectionQueue | undefined => collectedIn(a, next, depth + 1);
  switch (parent?.kind) {
    case 'Call': return parent.callee === value ? undefined : given(a, parent, value, depth);
    case 'Assign': {
      if (parent.value !== value || (parent.target.kind !== 'Name' && parent.target.kind !== 'Member')) return undefined;
      const decl = a.resolver.declOf(parent.target);
      return (decl && collectionsOf(a).byDecl.get(decl)) ?? firstOf(decl ? a.resolver.readsOf(decl) : [], further);
    }
    case 'Let': {
      const decl = parent.bindings.length === 1 ? a.resolver.declFor(parent, parent.bindings[0]) : undefined;
      return (decl && collectionsOf(a).byDecl.get(decl)) ?? firstOf(decl ? a.resolver.readsOf(decl) : [], further);
    }
    case 'Field': {
      const cls = a.program.ownerOf(parent);
      const object = cls && a.program.parentOf(cls);
      // A function in an object literal: `queue.push({ run: () => … })`.
      if (object?.kind === 'ObjectExpr') return further(object);
      const decl = a.resolver.declFor(parent);
      return (decl && collectionsOf(a).byDecl.get(decl)) ?? firstOf(decl ? a.resolver.readsOf(decl) : [], further);
    }
    case 'Return': {
      // `fun writing(c) = Runnable { … }`: whoever asks for it puts it in.
      const fn = a.program.enclosingFn(parent);
      return fn && a.program.parentOf(fn)?.kind !== 'Lambda' ? firstOf(a.resolver.callersOf(fn), further) : undefined;
    }
    case 'Cast': case 'Choose': case 'Binary': case 'ListExpr': return further(parent);
    default: return undefined;
  }
}

function given(a: Analysis, call: Call, value: Expr, depth: number): CollectionQueue | undefined {
  const name = a.calleeName(call);
  if (name !== undefined && PUTS.has(name) && call.callee.kind === 'Member') {
    const decl = holderOf(a, call.callee.object);
    const queue = decl && collectionsOf(a).byDecl.get(decl);
    if (queue) return queue;
  }
  const callee = a.resolver.calleeOf(call);
  // An entry that holds it, a list that it is an element of: `Entry(label, start)`, `mutableListOf(…)`.
  if (callee.constructs || callee.fns.length === 0) {
    const inside = collectedIn(a, call, depth + 1);
    if (inside) return inside;
  }
  for (const fn of callee.fns) {
    const param = fn.params.find(p => a.resolver.argumentFor(call, fn, p) === value);
    const decl = param && a.resolver.declFor(param);
    const found = firstOf(decl ? a.resolver.readsOf(decl) : [], read => collectedIn(a, read, depth + 1));
    if (found) return found;
  }
  return undefined;
}

/** The queue that the objects of a class are put in. */
export function collectedObjects(a: Analysis, cls: Class): CollectionQueue | undefined {
  return a.once<Class, CollectionQueue | undefined>('collected-objects', cls, undefined, () => {
    if (cls.name === undefined) return undefined;
    return firstOf(a.program.callsNamed(cls.name).filter(call => a.resolver.calleeOf(call).constructs === cls), call => collectedIn(a, call));
  });
}

function firstOf<T, U>(all: readonly T[], ask: (each: T) => U | undefined): U | undefined {
  for (const each of all) {
    const found = ask(each);
    if (found !== undefined) return found;
  }
  return undefined;
}

