/**
 * Whether an operation can meet another one from the way it is reached: past the project's own queue, from a stream of
 * events faster than the link, or from places of which nothing says that they wait for each other. What one function
 * does by itself is `inflight.ts`.
 */
import type { AnyNode, Call, Class, Fn, Language } from '../ir/ir.js';
import { unguarded, type Stops } from '../flow/paths.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { saysFree } from './busy-flags.js';
import { keptIn, linkOf } from './link-of.js';
import { callsDoing } from './operations.js';
import { bare, isChain } from './promises.js';
import { startsQueue, waysThroughQueues } from './queues.js';
import { argumentAt, roleOf } from './roles.js';
import { isConnecting, isOperation } from './starting.js';
import { streamOf } from './streams.js';
import { waitIn } from './waits.js';
import type { Way } from './ways.js';

export type Exposure =
  /** The project has a queue, and this way goes past it. */
  | { readonly is: 'past-queue'; readonly queue: string; readonly at: Call; readonly op: Call; readonly way: Way; readonly other?: Call }
  /** Runs for every value of a stream. */
  | { readonly is: 'stream'; readonly at: Call; readonly op: Call; readonly way: Way; readonly stream: string }
  /** Nothing here prevents a second one: two buttons, a public function. */
  | { readonly is: 'possible'; readonly at: Call; readonly op: Call; readonly way: Way };

/** Callbacks that report a completed operation free the slot; these report something else. AOSP BluetoothGattCallback. */
const UNSOLICITED = /^(?:onCharacteristicChanged|onServiceChanged|onPhyUpdate|onScanResult|onBatchScanResults|onLeScan|on\w*Request|onSubrateChange|onConnectionUpdated)$/;

export function exposureOf(a: Analysis, op: Call): readonly Exposure[] {
  return a.once<Call, readonly Exposure[]>('exposure', op, [], () => {
    if (!isOperation(a, op) || isSetUp(a, op)) return [];
    const ways = waysThroughQueues(a, op);
    const open = ways.filter(way => isOpenWay(a, op, way));
    const found: Exposure[] = [];
    for (const way of open) {
      const exposure = exposed(a, op, way);
      if (exposure && !found.some(e => e.is === exposure.is && e.at === exposure.at)) found.push(exposure);
    }
    return found;
  });
}

/** Ways that nothing orders: neither a queue, nor completion, nor a flag of the project's own, nor a link that is just being set up. */
function isOpenWay(a: Analysis, op: Call, way: Way): boolean {
  const { start } = way;
  if (start.is === 'queue' || start.is === 'teardown' || (start.is === 'lifecycle' && start.lifecycle.phase === 'teardown')) return false;
  if (start.is === 'callback' && !UNSOLICITED.test(start.member.name)) return [op, ...way.calls].some(call => isAfterTheNext(a, call));
  // Told of one after the other, and each waited for.
  if (start.is === 'event' && start.run.runner?.order === 'after-previous' && waitIn(a, start.fn) === 'waits') return false;
  return ![op, ...way.calls].some(call => isGuarded(a, call));
}

/** Every way to a call passes a flag that says that the slot is free. */
function isGuarded(a: Analysis, call: Call): boolean {
  return isAlwaysAfter(a, 'is-guarded', call, { edge: edge => edge.when !== undefined && saysFree(a, edge.when) });
}

/** `finished(); gatt.read(…)`: the slot was free, and is the queue's next operation's by now. */
function isAfterTheNext(a: Analysis, call: Call): boolean {
  return isAlwaysAfter(a, 'is-after-the-next', call, { step: before => before.node?.kind === 'Call' && before.node !== call && startsQueue(a, before.node) });
}

/** Every way to a call passes the making of a connection: nothing can be under way on it yet. */
function isFresh(a: Analysis, call: Call): boolean {
  return isChainedToConnecting(a, call) || isAlwaysAfter(a, 'is-fresh', call, { step: before => before.node?.kind === 'Call' && before.node !== call && connects(a, before.node) });
}

/** `device.gatt.connect().then(server => …).then(service => …)`: a link of a chain that begins with connecting. */
function isChainedToConnecting(a: Analysis, call: Call): boolean {
  for (let fn = a.program.enclosingFn(call); fn; fn = a.program.enclosingFn(fn)) {
    const lambda = a.program.parentOf(fn);
    let chain = lambda?.kind === 'Lambda' ? a.program.parentOf(lambda) : undefined;
    while (chain?.kind === 'Call' && chain.callee.kind === 'Member') {
      if (connects(a, chain)) return true;
      chain = isChain(chain) ? bare(chain.callee.object) : undefined;
    }
  }
  return false;
}

function isAlwaysAfter(a: Analysis, question: string, call: Call, stops: Stops): boolean {
  return a.once<Call, boolean>(question, call, false, () => {
    const at = a.stepsOf(call);
    return at !== undefined && at.steps.length > 0 && at.steps.every(step => unguarded(at.graph, step, stops) === undefined);
  });
}

/** Whether a call makes a connection, itself or in a function of the project. */
function connects(a: Analysis, call: Call): boolean {
  return a.once<Call, boolean>('connects', call, false, () => {
    if (isConnecting(a, call) || roleOf(a, call)?.does.has('opens-link')) return true;
    return a.resolver.calleeOf(call).fns.some(fn => connectsInside(a, fn));
  });
}

function connectsInside(a: Analysis, fn: Fn): boolean {
  return a.once<Fn, boolean>('connects-inside', fn, false, () => {
    let found = false;
    if (!fn.body) return false;
    a.eachBelow(fn.body, node => {
      if (node.kind === 'Call' && connects(a, node)) found = true;
      return found ? 'skip' : undefined;
    });
    return found;
  });
}

function exposed(a: Analysis, op: Call, way: Way): Exposure | undefined {
  if (isFresh(a, op)) return undefined;
  const queue = pastQueue(a, op, way);
  if (queue) return { is: 'past-queue', ...queue, at: placeOf(a, op, way), op, way };
  if (way.start.is === 'callback' && !UNSOLICITED.test(way.start.member.name)) return undefined;
  const stream = streamOf(a, op, way);
  if (stream?.certain) return { is: 'stream', stream: stream.name, at: nearHandler(a, op, way), op, way };
  if (!stream && ((way.start.is === 'outside' && !way.start.known) || way.calls.some(call => isFresh(a, call)))) return undefined;
  return { is: 'possible', at: op, op, way };
}

/** Connecting, and in Web Bluetooth looking for attributes, happens once a link; who does it again has another problem. */
function isSetUp(a: Analysis, op: Call): boolean {
  const role = roleOf(a, op);
  return role?.does.has('opens-link') === true || (role?.does.has('discovers') === true && role.answer === 'promise');
}

// ---- Places -------------------------------------------------------------

/**
 * At the operation when every way to it goes past the queue; otherwise at the first call on this way whose function
 * nothing but such ways lead to.
 */
function placeOf(a: Analysis, op: Call, way: Way): Call {
  const passes = (call: Call): boolean => waysThroughQueues(a, call).every(each => isOpenWay(a, call, each));
  if (passes(op)) return op;
  return way.calls.find(passes) ?? op;
}

/** In the handler that the values come to, when the operation stands in a helper of the same file; otherwise at the operation. */
function nearHandler(a: Analysis, op: Call, way: Way): Call {
  const file = a.fileOf(op);
  const calls = way.calls.filter(call => !isForwarding(a, call));
  const [call] = calls;
  return call && calls.every(each => a.fileOf(each) === file) ? call : op;
}

/** `event => this.onData(event)`: the function that it calls is the handler. */
function isForwarding(a: Analysis, call: Call): boolean {
  const fn = a.program.enclosingFn(call);
  const [only, ...more] = fn?.body?.stmts ?? [];
  if (!fn || !only || more.length > 0 || a.program.parentOf(fn)?.kind !== 'Lambda') return false;
  const value = only.kind === 'Return' ? only.value : only.kind === 'ExprStmt' ? only.expr : undefined;
  return value === call || (value?.kind === 'Await' && value.value === call);
}

// ---- The queue that others go through -----------------------------------

interface Queued {
  readonly op: Call;
  readonly queue: string;
  readonly owner: Class | undefined;
  /** It is a queue of payloads for this operation's attribute, and says nothing of others. */
  readonly payloads: boolean;
}

/** The queue that other operations of the same link go through, so that passing it is a fault. */
function pastQueue(a: Analysis, op: Call, way: Way): { readonly queue: string; readonly other?: Call } | undefined {
  const declared = declaredQueue(a, a.fileOf(op)?.language);
  if (declared !== undefined) return { queue: declared };
  const owners = ownersOf(a, op, way);
  const kept = keptIn(a, linkOf(a, op));
  const others = queuedOperations(a).filter(queued => a.fileOf(queued.op)?.language === a.fileOf(op)?.language
    && (!queued.payloads || isSameAttribute(a, queued.op, op)) && ((queued.owner !== undefined && owners.has(queued.owner)) || (kept !== undefined && keptIn(a, linkOf(a, queued.op)) === kept)));
  const kinds = new Set(others.map(queued => kindOf(a, queued.op)));
  const kind = kindOf(a, op);
  // A queue for one kind of operation says nothing of the others, nor does one for values of what sets up or measures the link.
  if (!kinds.has(kind) && (kinds.size < 2 || !VALUES.has(kind))) return undefined;
  const other = others.find(queued => kindOf(a, queued.op) === kind) ?? others[0];
  return other && { queue: other.queue, other: other.op };
}

/** The outermost classes on the way, and what they extend. */
function ownersOf(a: Analysis, op: Call, way: Way): ReadonlySet<Class> {
  const found = new Set<Class>();
  for (const call of [op, ...way.calls]) {
    const cls = outermostClass(a, call);
    if (cls) [cls, ...a.resolver.superclassesOf(cls)].forEach(each => found.add(each));
  }
  return found;
}

export function outermostClass(a: Analysis, node: AnyNode): Class | undefined {
  let cls = a.program.enclosingClass(node);
  for (let up = cls && a.program.enclosingClass(cls); up; up = a.program.enclosingClass(up)) cls = up;
  return cls;
}

/** Kinds of operation that deal with values, and so with each other; everything else is a kind of its own. */
const VALUES = new Set(['read', 'write', 'descriptor', 'notify']);

function kindOf(a: Analysis, op: Call): string {
  const role = roleOf(a, op);
  if (role?.does.has('writes-descriptor')) return 'descriptor';
  if (role?.does.has('subscribes') || role?.does.has('unsubscribes')) return 'notify';
  if (role?.does.has('writes-value')) return 'write';
  return role?.does.has('reads-value') ? 'read' : role?.api ?? '';
}

/** Both operate on the characteristic that one declaration holds. */
function isSameAttribute(a: Analysis, x: Call, y: Call): boolean {
  const [p, q] = [attributeOf(a, x), attributeOf(a, y)];
  return p !== undefined && p === q;
}

function attributeOf(a: Analysis, op: Call): Decl | undefined {
  const member = roleOf(a, op)?.member;
  const at = member?.params?.findIndex(p => p.is === 'characteristic' || p.is === 'descriptor') ?? -1;
  const value = at >= 0 ? argumentAt(op, member!, at) : op.callee.kind === 'Member' ? op.callee.object : undefined;
  const named = value && bare(value);
  return named?.kind === 'Name' || named?.kind === 'Member' ? a.resolver.declOf(named) : undefined;
}

/** Every operation of the program that a queue surely runs. */
export function queuedOperations(a: Analysis): readonly Queued[] {
  return a.once<string, readonly Queued[]>('queued-operations', '', [], () => {
    const found: Queued[] = [];
    for (const op of callsDoing(a, 'starts-operation')) {
      if (!isOperation(a, op) || isSetUp(a, op)) continue;
      for (const way of waysThroughQueues(a, op)) {
        if (way.start.is !== 'queue' || !way.start.sure) continue;
        // The queue may stand in another class than what it runs.
        for (const owner of new Set([op, way.start.fn, ...(way.start.around ?? [])].map(node => outermostClass(a, node)))) found.push({ op, queue: way.start.name, owner, payloads: way.start.payloads === true });
      }
    }
    return found;
  });
}

/** A function of the profile's queue that this program has in that language. */
function declaredQueue(a: Analysis, language: Language | undefined): string | undefined {
  return a.once<string, string | undefined>('declared-queue', language ?? '', undefined, () => {
    for (const name of a.words.queue) {
      const fns = a.program.functionsNamed(name.split('.').at(-1)!);
      if (fns.some(fn => a.fileOf(fn)?.language === language && a.nameIn(a.words.queue, fn) === name)) return name;
    }
    return undefined;
  });
}
