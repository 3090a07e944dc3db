/**
 * Whether an operation can meet another one from the way it is reached: past the project's own queue, from a stream of
 * events faster than the link, or from places of which nothing says that they wait for each other. What one function
 * does by itself is `inflight.ts`.
 */
import type { AnyNode, Call, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { isOperation } from './inflight.js';
import { linkOf } from './link-of.js';
import { callsDoing, listenedEvent } from './operations.js';
import { waysThroughQueues } from './queues.js';
import { roleOf } from './roles.js';
import type { Way } from './ways.js';

export type Exposure =
  /** The project has a queue, and this way goes past it. */
  | { readonly is: 'past-queue'; readonly queue: string; readonly at: Call; readonly op: Call; readonly way: Way }
  /** Runs for every value of a stream. */
  | { readonly is: 'stream'; readonly at: Call; readonly op: Call; readonly way: Way; readonly stream: string }
  /** Nothing here prevents a second one: two buttons, a public function. */
  | { readonly is: 'possible'; readonly at: Call; readonly op: Call; readonly way: Way };

/** Callbacks that report a completed operation free the slot; these report something else. AOSP BluetoothGattCallback. */
const UNSOLICITED = /^(?:onCharacteristicChanged|onServiceChanged|onPhyUpdate|onScanResult|onBatchScanResults|onLeScan|on\w*Request|onSubrateChange|onConnectionUpdated)$/;

/** Functions that deliver one value after the other, as fast as they come. common practice, no source */
const STREAMS = /^(?:observe|observeForever|observeAsState|collect|collectLatest|onEach|subscribe|doOnNext|tap|takeEvery|setInterval|scheduleAtFixedRate|scheduleWithFixedDelay|fixedRateTimer|snapshotFlow)$/;
const STREAM_OVERRIDES = /^(?:onProgressChanged|onSensorChanged|onLocationChanged|onValueChange|onColorChanged|onColorSelected|onTouch|onScroll|onFrame\w*|onDraw)$/;
const STREAM_EVENTS = new Set(['characteristicvaluechanged', 'input', 'pointermove', 'mousemove', 'touchmove', 'scroll', 'message', 'devicemotion', 'deviceorientation']);

export function exposureOf(a: Analysis, op: Call): readonly Exposure[] {
  return a.once<Call, readonly Exposure[]>('exposure', op, [], () => {
    if (!isOperation(a, op) || isConnect(a, op)) return [];
    const ways = waysThroughQueues(a, op);
    const queue = queueName(a, op);
    const open = ways.filter(way => way.start.is !== 'queue' && !way.order);
    const found: Exposure[] = [];
    for (const way of open) {
      const exposure = exposed(a, op, way, queue, open.length === ways.length);
      if (exposure && !found.some(e => e.is === exposure.is && e.at === exposure.at)) found.push(exposure);
    }
    return found;
  });
}

function exposed(a: Analysis, op: Call, way: Way, queue: string | undefined, wholly: boolean): Exposure | undefined {
  const { start } = way;
  const at = placeFor(a, op, way, wholly);
  if (start.is === 'teardown' || start.is === 'queue') return undefined;
  if (start.is === 'outside' && !start.known) return undefined;
  if (start.is === 'callback' && !UNSOLICITED.test(start.member.name)) return undefined;
  if (queue !== undefined) return { is: 'past-queue', queue, at, op, way };
  const stream = streamOf(a, way);
  if (stream !== undefined) return { is: 'stream', at, op, way, stream };
  return { is: 'possible', at, op, way };
}

/** Connecting and looking for services happens once a link; who does it again has another problem. */
function isConnect(a: Analysis, op: Call): boolean {
  const role = roleOf(a, op);
  return role?.does.has('opens-link') === true || role?.member?.name === 'connect' || /^get(?:Primary|Included)?(?:Service|Characteristic|Descriptor)s?$/.test(role?.member?.name ?? '');
}

/**
 * Where to report: at the operation when every way to it is open; otherwise at the first call on this way whose function
 * nothing but open ways lead to. Never outside the operation's own file, unless the way enters it from there.
 */
function placeFor(a: Analysis, op: Call, way: Way, wholly: boolean): Call {
  const file = a.fileOf(op);
  if (wholly) {
    const near = way.calls.filter(call => a.fileOf(call) === file);
    const last = near.at(-1);
    return last && way.start.is === 'event' && near.length === way.calls.length ? last : op;
  }
  const open = way.calls.find(call => waysThroughQueues(a, call).every(w => w.start.is !== 'queue' && !w.order));
  return open ?? op;
}

/** The queue that other operations of the same link go through. */
function queueName(a: Analysis, op: Call): string | undefined {
  const link = linkOf(a, op);
  for (const [queued, name] of queuedOperations(a)) {
    if (queued === op || a.fileOf(queued)?.language !== a.fileOf(op)?.language) continue;
    if (sameOwner(a, queued, op) || (link.root !== undefined && linkOf(a, queued).root === link.root)) return name;
  }
  return undefined;
}

/** Two operations belong to one link's code when their outermost classes are the same, or one extends the other's. */
function sameOwner(a: Analysis, x: AnyNode, y: AnyNode): boolean {
  const [p, q] = [outermost(a, x), outermost(a, y)];
  return p !== undefined && q !== undefined && (p === q || [p, ...a.resolver.superclassesOf(p)].some(cls => cls === q || a.resolver.superclassesOf(q).includes(cls)));
}

function outermost(a: Analysis, node: AnyNode): ReturnType<Analysis['program']['enclosingClass']> {
  let cls = a.program.enclosingClass(node);
  for (let up = cls && a.program.enclosingClass(cls); up; up = a.program.enclosingClass(up)) cls = up;
  return cls;
}

/** Every operation of the program that a queue runs, with the queue's name. */
export function queuedOperations(a: Analysis): ReadonlyMap<Call, string> {
  return a.once<string, ReadonlyMap<Call, string>>('queued-operations', '', new Map(), () => {
    const found = new Map<Call, string>();
    for (const op of callsDoing(a, 'starts-operation')) {
      if (!isOperation(a, op) || isConnect(a, op)) continue;
      for (const way of waysThroughQueues(a, op)) {
        if (way.start.is === 'queue') found.set(op, way.start.name);
        else if (way.order) found.set(op, way.order);
      }
    }
    return found;
  });
}

function streamOf(a: Analysis, way: Way): string | undefined {
  const { start } = way;
  if (start.is === 'callback') return start.member.name;
  if (start.is === 'event') {
    const name = a.calleeName(start.run.call) ?? '';
    if (name === 'addEventListener') {
      const event = start.run.call.args[0] && a.resolver.constants.text(start.run.call.args[0].value);
      return event !== undefined && STREAM_EVENTS.has(event) ? event : undefined;
    }
    return STREAMS.test(name) ? name : undefined;
  }
  const fn: Fn | undefined = start.is === 'outside' || start.is === 'lifecycle' ? start.fn : undefined;
  if (fn?.name !== undefined && STREAM_OVERRIDES.test(fn.name)) return fn.name;
  const listened = fn && listenedEvent(a, fn);
  return listened !== undefined && STREAM_EVENTS.has(listened) ? listened : undefined;
}
