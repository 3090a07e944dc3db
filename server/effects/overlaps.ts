/** Every place of a file at which a second operation can be in flight, each place once, the surest reason first. */
import type { Block, Call, File, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { exposureOf, type Exposure } from './exposure.js';
import { flightOf, gatherer, isOperation, type Overlap } from './inflight.js';

export type Collision =
  | { readonly is: 'overlap'; readonly at: Call; readonly overlap: Overlap }
  | { readonly is: 'exposed'; readonly at: Call; readonly exposure: Exposure };

export function collisionsIn(a: Analysis, file: File): readonly Collision[] {
  const found = new Map<Call, Collision>();
  const homes: (Fn | Block)[] = [file.body];
  const operations: Call[] = [];
  a.eachBelow(file, node => {
    if (node.kind === 'Fn' && !a.isInlined(node)) homes.push(node);
    if (node.kind === 'Call' && isOperation(a, node)) operations.push(node);
    return undefined;
  });
  for (const home of homes) {
    for (const overlap of flightOf(a, home).overlaps) {
      const at = overlap.kind === 'parallel' ? gatherer(a, overlap.call) ?? overlap.call : overlap.call;
      if (!found.has(at)) found.set(at, { is: 'overlap', at, overlap });
    }
  }
  for (const op of operations) {
    for (const exposure of exposureOf(a, op)) {
      const known = found.get(exposure.at);
      if (!known || (known.is === 'exposed' && known.exposure.is === 'possible')) found.set(exposure.at, { is: 'exposed', at: exposure.at, exposure });
    }
  }
  return [...found.values()].filter(c => a.fileOf(c.at) === file).sort((x, y) => x.at.span.start - y.at.span.start);
}
