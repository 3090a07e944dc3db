/**
 * What becomes of the answer with which a call says that it was accepted: the flag or status int of an Android call, the
 * promise of a web one (a GATT promise of its own, or a function of the project that forwards one).
 */
import type { Call, File } from '../ir/ir.js';
import type { Answer } from '../catalogue/types.js';
import type { Analysis } from './analysis.js';
import { argumentAt, roleOf, type Role } from './roles.js';
import { liveWays } from './closing.js';
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
  if (role?.answer === 'accept-flag' || role?.answer === 'accept-status') {
    const starts = role.does.has('starts-operation') || role.does.has('subscribes') || role.does.has('unsubscribes') || role.does.has('starts-scan');
    if (!starts && !role.does.has('hints')) return undefined;
    return { call, api: role.api, answer: role.answer, use: useOf(a, call), hint: !starts, windingDown: windsDown(a, call, role) };
  }
  if (!isGattPromise(a, call) && !mayReject(a, call)) return undefined;
  const api = role?.api ?? a.calleeName(call) ?? 'this function';
  return { call, api, answer: 'promise', promise: promiseUse(a, call), hint: false, windingDown: false };
}

/** Switching notifications off: on teardown nothing depends on it. */
function windsDown(a: Analysis, call: Call, role: Role): boolean {
  if (!role.does.has('unsubscribes') || role.does.has('subscribes')) return false;
  const at = role.member?.params?.findIndex(p => p.is === 'enable') ?? -1;
  const off = role.member && at >= 0 ? argumentAt(call, role.member, at) : undefined;
  return off === undefined || a.resolver.constants.bool(off) === false || liveWays(a, call).every(way => way.start.is === 'teardown');
}
