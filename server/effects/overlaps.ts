/** Every place of a file at which a second operation can be in flight, each place once, the surest reason first. */
import type { Block, Call, File, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { leadsToOperation } from './busy-flags.js';
import { exposureOf, type Exposure } from './exposure.js';
import { flightOf, type Overlap } from './inflight.js';
import { queueOf } from './queues.js';
import { isOperation } from './starting.js';
import { gatherer } from './together.js';

export type Collision =
  | { readonly is: 'overlap'; readonly at: Call; readonly overlap: Overlap }
  | { readonly is: 'exposed'; readonly at: Call; readonly exposure: Exposure };

export function collisionsIn(a: Analysis, file: File): readonly Collision[] {
  const found = new Map<Call, Collision>();
  const note = (collision: Collision): void => {
    const known = found.get(collision.at);
    if (!known || (!isCertain(known) && isCertain(collision))) found.set(collision.at, collision);
  };
  const { homes, operations } = partsOf(a, file);
  for (const home of homes) {
    for (const overlap of flightOf(a, home).overlaps) {
      note({ is: 'overlap', at: overlap.kind === 'parallel' ? gatherer(a, overlap.call) ?? overlap.call : overlap.call, overlap });
    }
  }
  for (const op of operations) for (const exposure of exposureOf(a, op)) note({ is: 'exposed', at: exposure.at, exposure });
  const explained = new Set([...found.values()].filter(isCertain).flatMap(c => (c.is === 'overlap' ? [c.overlap.op, c.overlap.first.op] : [c.exposure.op])));
  // What is surely wrong with an operation says it all; that it might also meet others adds nothing.
  return [...found.values()].filter(c => a.fileOf(c.at) === file && (isCertain(c) || c.is === 'overlap' || !explained.has(c.exposure.op))).sort((x, y) => x.at.span.start - y.at.span.start);
}

/** What is looked at by itself: functions, and lambdas that a queue runs when their turn comes. */
function partsOf(a: Analysis, file: File): { readonly homes: readonly (Fn | Block)[]; readonly operations: readonly Call[] } {
  const homes: (Fn | Block)[] = [file.body];
  const operations = new Set<Call>();
  a.eachBelow(file, node => {
    if (node.kind === 'Fn' && (!a.isInlined(node) || queueOf(a, node) !== undefined)) homes.push(node);
    if (node.kind !== 'Call') return undefined;
    if (isOperation(a, node)) operations.add(node);
    // What goes past the queue here may be started in a helper elsewhere.
    for (const fn of a.resolver.calleeOf(node).fns) if (a.fileOf(fn) !== file) operationsIn(a, fn).forEach(op => operations.add(op));
    return undefined;
  });
  return { homes, operations: [...operations] };
}

/** The operations that a function starts, in itself or in what it calls. */
function operationsIn(a: Analysis, fn: Fn): readonly Call[] {
  return a.once<Fn, readonly Call[]>('operations-in', fn, [], () => {
    const found = new Set<Call>();
    if (!fn.body || !leadsToOperation(a, fn)) return [];
    a.eachBelow(fn.body, node => {
      if (node.kind !== 'Call') return undefined;
      if (isOperation(a, node)) found.add(node);
      for (const callee of a.resolver.calleeOf(node).fns) operationsIn(a, callee).forEach(op => found.add(op));
      return undefined;
    });
    return [...found];
  });
}

export function isCertain(collision: Collision): boolean {
  return collision.is === 'overlap' ? collision.overlap.certain : collision.exposure.is !== 'possible';
}
