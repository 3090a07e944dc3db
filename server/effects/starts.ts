/**
 * What becomes of the answer with which a call says that it was accepted: the flag or status int of an Android call, the
 * promise of a web one (a GATT promise of its own, or a function of the project that forwards one).
 */
import type { Call, Expr, File, Fn } from '../ir/ir.js';
import type { Answer, PlatformMember } from '../catalogue/types.js';
import type { Analysis } from './analysis.js';
import { floatingExpr, joinsAt, type Join } from './joining.js';
import { liveWays } from './reach.js';
import { argumentAt, roleOf, type Role } from './roles.js';
import { isGattPromise, mayReject, promiseUse, type PromiseUse } from './rejections.js';
import { useOf, type Use } from './use.js';

export interface Start {
  readonly call: Call;
  /** `BluetoothGatt.writeCharacteristic`, or the project's function. */
  readonly api: string;
  readonly answer: Answer;
  /** What becomes of a flag or status int. */
  readonly use?: Use;
  /** What becomes of a promise. */
  readonly promise?: PromiseUse;
  /** It only asks for something that may be ignored, or prepares: no result depends on it. */
  readonly hint: boolean;
  /** It takes a registration back on the way down, where a refusal changes nothing. */
  readonly windingDown: boolean;
  /** The project's function hands on the answer of this call. */
  readonly hands?: Call;
  /** The catalogue's member, where it is one of the platform's. */
  readonly member?: PlatformMember;
  /** The whole of a promise that nobody waits for, and how it could be waited for. */
  readonly floats?: Expr;
  readonly joins: readonly Join[];
}

/** Every start in a file, in the order of the text. */
export function startsIn(a: Analysis, file: File): readonly Start[] {
  const found: Start[] = [];
  a.eachBelow(file, node => {
    if (node.kind === 'Call') {
      const start = startOf(a, node);
      if (start) found.push(start);
    }
    return undefined;
  });
  return found;
}

export function startOf(a: Analysis, call: Call): Start | undefined {
  const role = roleOf(a, call);
  if (isAnswer(role?.answer)) {
    const starts = isStart(role!);
    if (!starts && !role!.does.has('hints')) return undefined;
    return { ...base(a, call, role), answer: role!.answer, use: useOf(a, call), hint: !starts, windingDown: windsDown(a, call, role!) };
  }
  const hands = handedOn(a, call);
  if (hands) return { ...base(a, call, role), answer: roleOf(a, hands)!.answer, use: useOf(a, call), hint: false, windingDown: false, hands };
  if (!isGattPromise(a, call) && !mayReject(a, call) && !isRejection(a, call)) return undefined;
  const promise = promiseUse(a, call);
  const floats = promise.is === 'floating' ? { floats: floatingExpr(a, call), joins: joinsAt(a, call) } : {};
  return { ...base(a, call, role), answer: 'promise', promise, hint: false, windingDown: false, ...floats };
}

const base = (a: Analysis, call: Call, role: Role | undefined): Pick<Start, 'call' | 'api' | 'member' | 'joins'> => ({
  call, api: role?.api ?? a.calleeName(call) ?? 'this function', joins: [], ...(role?.member && { member: role.member }),
});

const isAnswer = (answer: Answer | undefined): boolean => answer === 'accept-flag' || answer === 'accept-status';

const isStart = ({ does }: Role): boolean =>
  does.has('starts-operation') || does.has('subscribes') || does.has('unsubscribes') || does.has('starts-scan') || does.has('writes-value');

/** `Promise.reject(…)` in a function that deals with a link. */
function isRejection(a: Analysis, call: Call): boolean {
  const { callee } = call;
  if (callee.kind !== 'Member' || callee.name !== 'reject' || callee.object.kind !== 'Name' || callee.object.name !== 'Promise') return false;
  let found = false;
  a.eachBelow(a.home(call) ?? call, node => {
    if (node.kind === 'Call' && isGattPromise(a, node)) found = true;
    return found ? 'skip' : undefined;
  });
  return found;
}

// ---- On the way down ----------------------------------------------------

/** Switching notifications off: on teardown nothing depends on it. */
function windsDown(a: Analysis, call: Call, role: Role): boolean {
  if (role.does.has('writes-descriptor')) return writesOff(a, call, role) && goesDown(a, call);
  if (!role.does.has('unsubscribes')) return false;
  if (!role.does.has('subscribes')) return true;
  return isTornDown(a, call);
}

/** Every value that this descriptor write may send is "notifications off". */
function writesOff(a: Analysis, call: Call, role: Role): boolean {
  const at = role.member?.params?.findIndex(p => p.is === 'payload') ?? -1;
  const payload = role.member && at >= 0 ? argumentAt(call, role.member, at) : undefined;
  const values = payload ? [payload] : valuesPutInto(a, call);
  return values.length > 0 && values.every(value => {
    const bytes = a.resolver.constants.bytes(value);
    return bytes !== undefined && bytes.length > 0 && bytes.every(byte => byte === 0);
  });
}

/** `descriptor.value = …` and `descriptor.setValue(…)` in the function that then writes the descriptor. */
function valuesPutInto(a: Analysis, call: Call): readonly Expr[] {
  const [descriptor] = call.args;
  const home = a.home(call);
  if (!descriptor || !home) return [];
  const isIt = (expr: Expr): boolean => a.resolver.sameObject(expr, descriptor.value) === true;
  const found: Expr[] = [];
  a.eachBelow(home, node => {
    if (node.kind === 'Assign' && node.target.kind === 'Member' && node.target.name === 'value' && isIt(node.target.object)) found.push(node.value);
    if (node.kind === 'Call' && node.callee.kind === 'Member' && node.callee.name === 'setValue' && node.args[0] && isIt(node.callee.object)) found.push(node.args[0].value);
    return undefined;
  });
  return found;
}

/** The function goes on to end the link, or is itself only reached when things end. */
function goesDown(a: Analysis, call: Call): boolean {
  let ends = false;
  a.eachBelow(a.home(call) ?? call, node => {
    const does = node.kind === 'Call' && node.span.start > call.span.start ? roleOf(a, node)?.does : undefined;
    if (does?.has('disconnects-link') || does?.has('closes-link')) ends = true;
    return ends ? 'skip' : undefined;
  });
  return ends || isTornDown(a, call);
}

function isTornDown(a: Analysis, call: Call): boolean {
  const ways = liveWays(a, call);
  return ways.length > 0 && ways.every(({ start }) => start.is === 'teardown' || (start.is === 'lifecycle' && start.lifecycle.phase === 'teardown'));
}

// ---- Functions that hand the answer on ----------------------------------

/** The start whose flag or status int a call of a project function yields, whichever function it runs. */
function handedOn(a: Analysis, call: Call): Call | undefined {
  const { fns, complete } = a.resolver.calleeOf(call);
  if (fns.length === 0 || !complete) return undefined;
  const [first, ...others] = fns.map(fn => answerOf(a, fn));
  return others.every(other => other !== undefined) ? first : undefined;
}

/** The start whose answer a function returns. */
function answerOf(a: Analysis, fn: Fn): Call | undefined {
  return a.once<Fn, Call | undefined>('answer-of', fn, undefined, () => {
    if (!fn.body || fn.modifiers.has('async')) return undefined;
    let found: Call | undefined;
    a.eachBelow(fn.body, node => {
      if (node.kind === 'Call') found ??= answerAt(a, node, fn);
      return found ? 'skip' : undefined;
    });
    return found;
  });
}

function answerAt(a: Analysis, call: Call, fn: Fn): Call | undefined {
  const role = roleOf(a, call);
  const start = role ? (isAnswer(role.answer) && isStart(role) && !windsDown(a, call, role) ? call : undefined) : handedOn(a, call);
  const use = start && useOf(a, call);
  return use?.is === 'returned' && use.from === fn && isPlainResult(a, fn) ? start : undefined;
}

function isPlainResult(a: Analysis, fn: Fn): boolean {
  const name = a.resolver.resultOf(fn)?.name;
  return name === 'boolean' || name === 'number';
}
