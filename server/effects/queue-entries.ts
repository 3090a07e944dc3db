/** How code of a class hands operations to its queue, so that a fix can do it the same way. */
import type { Argument, Call, Expr } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { outermostClass, queuedOperations } from './exposure.js';
import { queueOf } from './queues.js';
import { isSuspending } from './waits.js';

/** A call through which the class already hands an operation to the queue, and the argument that is the operation. */
export interface Entry {
  readonly call: Call;
  readonly operation: Argument;
}

/** An entry that can be imitated where an operation stands: nothing in it belongs to another place. */
export function entryFor(a: Analysis, at: Call): Entry | undefined {
  return a.once<Call, Entry | undefined>('queue-entry', at, undefined, () => {
    const owner = outermostClass(a, at);
    if (!owner) return undefined;
    for (const queued of queuedOperations(a)) {
      const entry = queued.owner === owner ? entryOf(a, queued.op) : undefined;
      if (entry && fits(a, entry, at)) return entry;
    }
    return undefined;
  });
}

/** The call of a function of the project that takes the lambda around a queued operation. */
function entryOf(a: Analysis, op: Call): Entry | undefined {
  for (let fn = a.program.enclosingFn(op); fn; fn = a.program.enclosingFn(fn)) {
    const lambda = a.program.parentOf(fn);
    const call = lambda?.kind === 'Lambda' ? a.program.parentOf(lambda) : undefined;
    if (call?.kind !== 'Call' || queueOf(a, fn) === undefined) continue;
    const operation = call.args.find(arg => arg.value === lambda);
    if (operation && a.resolver.calleeOf(call).fns.length > 0) return { call, operation };
  }
  return undefined;
}

function fits(a: Analysis, { call, operation }: Entry, at: Call): boolean {
  const suspends = a.resolver.calleeOf(call).fns.some(fn => fn.modifiers.has('suspend'));
  return (!suspends || isSuspending(a, at)) && isOfClass(a, call.callee)
    && call.args.every(arg => arg === operation || arg.value.kind === 'Template' || (arg.value.kind === 'Literal' && typeof arg.value.value === 'string'));
}

/** `enqueue`, `this.tail.run`, `queue.enqueue`: reached from `this`, whatever function it is said in. */
function isOfClass(a: Analysis, callee: Expr): boolean {
  if (callee.kind === 'This') return true;
  if (callee.kind !== 'Name' && callee.kind !== 'Member') return false;
  const decl = a.resolver.declOf(callee);
  const isMember = (decl?.is === 'field' || decl?.is === 'fn') && decl.owner !== undefined;
  return callee.kind === 'Name' ? isMember : isOfClass(a, callee.object);
}
