/** Every place of a file at which a second operation can be in flight, each place once, the surest reason first. */
import type { Block, Call, File, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { leadsToOperation } from './busy-flags.js';
import { exposureOf, type Exposure } from './exposure.js';
import { flightOf, type Overlap } from './inflight.js';
import { entryFor, type Entry } from './queue-entries.js';
import { queueOf } from './queues.js';
import { roleOf } from './roles.js';
import { isOperation } from './starting.js';
import { gatherer } from './together.js';

/** What becomes of the second operation. */
export type Harm =
  /** The platform's busy flag refuses it, with false or with a status. */
  | 'refused-by-flag' | 'refused-by-status'
  /** No flag guards it, or what is under way: it is accepted, and the two collide. */
  | 'collides'
  | 'without-link'
  /** A browser rejects its promise. */
  | 'rejected';

interface Place {
  readonly at: Call;
  readonly harm: Harm;
  /** How the class hands operations to its queue. */
  readonly entry?: Entry;
}

export type Collision = Place & Found;
type Found = { readonly at: Call } & (
  | { readonly is: 'overlap'; readonly overlap: Overlap }
  | { readonly is: 'exposed'; readonly exposure: Exposure }
);

export function collisionsIn(a: Analysis, file: File): readonly Collision[] {
  const found = new Map<Call, Found>();
  const note = (collision: Found): void => {
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
  return worthTelling(a, file, [...found.values()]).map(collision => explainedBy(a, collision));
}

/**
 * What is surely wrong in a function says it all; that an operation there might also meet others adds nothing. And where
 * nothing is surely wrong, once is enough.
 */
function worthTelling(a: Analysis, file: File, all: readonly Found[]): readonly Found[] {
  const certain = all.filter(isCertain);
  const explained = new Set<unknown>(certain.flatMap(c => [a.home(c.at), ...(c.is === 'overlap' ? [c.overlap.op, c.overlap.first.op] : [c.exposure.op])]));
  const here = all.filter(c => a.fileOf(c.at) === file).sort((x, y) => x.at.span.start - y.at.span.start);
  const second = new Set(certain.flatMap(c => (c.is === 'overlap' ? [c.overlap.op] : [])));
  return here.filter(c => {
    if (c.is === 'overlap') return true;
    // That it goes past the queue as well is the same fault, said once.
    if (isCertain(c)) return !second.has(c.exposure.op);
    const home = a.home(c.at);
    if (explained.has(c.exposure.op) || explained.has(home)) return false;
    explained.add(home);
    return true;
  });
}

function explainedBy(a: Analysis, found: Found): Collision {
  const entry = entryFor(a, found.at);
  return { ...found, harm: harmOf(a, found), ...(entry && { entry }) };
}

function harmOf(a: Analysis, found: Found): Harm {
  if (found.is === 'overlap' && found.overlap.kind === 'connecting') return 'without-link';
  const second = roleOf(a, found.is === 'overlap' ? found.overlap.op : found.exposure.op);
  const first = found.is === 'overlap' ? roleOf(a, found.overlap.first.op) : undefined;
  if (second?.answer === 'promise') return 'rejected';
  if (second?.slot === 'collides' || first?.slot === 'collides') return 'collides';
  return second?.answer === 'accept-status' ? 'refused-by-status' : 'refused-by-flag';
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

function isCertain(collision: Found): boolean {
  return collision.is === 'overlap' ? collision.overlap.certain : collision.exposure.is !== 'possible';
}
