/** Where links are given back: which calls close what, directly or through a helper of the project. */
import type { AnyNode, Call, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { callsDoing } from './operations.js';
import { originsOf, receiverOrigins, type Origin } from './origins.js';
import { roleOf } from './roles.js';
import { runOf } from './runs.js';

export interface Closer {
  /** The call of `close()` (Android) or `disconnect()` (web), or the call that is handed a reference to it. */
  readonly call: Call;
  readonly closed: readonly Origin[];
}

/** Every place that gives a link back. */
export function closers(a: Analysis): readonly Closer[] {
  return a.once<string, readonly Closer[]>('closers', '', [], () => [
    ...callsDoing(a, 'closes-link').map(call => ({ call, closed: receiverOrigins(a, call) })),
    ...referenced(a),
  ]);
}

/** `gatts.forEach(BluetoothGatt::close)`, `gatt?.let(BluetoothGatt::close)`, `scope.onEnd(gatt::close)`. */
function referenced(a: Analysis): readonly Closer[] {
  return a.once<string, readonly Closer[]>('referenced-closers', '', [], () => a.program.usesNamed('close').flatMap(ref => {
    const call = ref.kind === 'FnRef' ? a.program.parentOf(ref) : undefined;
    if (ref.kind !== 'FnRef' || call?.kind !== 'Call' || call.callee === ref) return [];
    const type = ref.object && a.resolver.typeOf(ref.object);
    if (type === undefined || !/^BluetoothGatt(?:Server)?$/.test(type.name)) return [];
    if (type.meta !== true) return [{ call, closed: originsOf(a, ref.object!) }];
    const object = runOf(a, call, ref)?.runner && call.callee.kind === 'Member' ? call.callee.object : undefined;
    return [{ call, closed: object ? originsOf(a, object) : [{ is: 'unknown' } as const] }];
  }));
}

/** Whether a call closes a link, itself or in what it calls. */
export function closes(a: Analysis, call: Call): boolean {
  return a.once<Call, boolean>('closes', call, false, () => {
    if (roleOf(a, call)?.does.has('closes-link')) return true;
    if (referenced(a).some(closer => closer.call === call)) return true;
    return a.resolver.calleeOf(call).fns.some(fn => fn.body !== undefined && closesInside(a, fn));
  });
}

function closesInside(a: Analysis, fn: Fn): boolean {
  return a.once<Fn, boolean>('closes-inside', fn, false, () => {
    let found = false;
    a.eachBelow(fn.body!, node => {
      if (node.kind === 'Call' && closes(a, node)) found = true;
      return found ? 'skip' : undefined;
    });
    return found;
  });
}

/** Whether a function contains a call that closes a link, lambdas in it included. */
export function closesSomewhere(a: Analysis, root: AnyNode): boolean {
  let found = false;
  a.eachBelow(root, node => {
    if (node.kind === 'Call' && closes(a, node)) found = true;
    return found ? 'skip' : undefined;
  });
  return found;
}
