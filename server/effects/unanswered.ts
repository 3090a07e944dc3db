/**
 * Operations that somebody waits for, and whose failure reaches nobody: the function that awaits them is run by something
 * that drops its promise, or a chain has a path for success alone. A promise that nobody waits for at all is `starts.ts`.
 */
import type { Block, Call, File, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { startsIn } from './starts.js';
import { escapes, outermost, type Outermost, type PromiseUse } from './rejections.js';

export interface Unanswered {
  /** The first call whose rejection leaves the function. */
  readonly call: Call;
  /** The others, in order. */
  readonly also: readonly Call[];
  readonly home: Fn | Block | undefined;
  /** What drops the failure; `chain`: a `then` without a second path. */
  readonly run: Outermost | { readonly is: 'chain' };
}

export function unansweredIn(a: Analysis, file: File): readonly Unanswered[] {
  if (file.language !== 'typescript') return [];
  const homes: (Fn | Block)[] = [file.body];
  a.eachBelow(file, node => {
    if (node.kind === 'Fn' && node.body && node.modifiers.has('async')) homes.push(node);
    return undefined;
  });
  const chains = startsIn(a, file).filter(start => isOpenChain(start.promise)).map(start => ({ call: start.call, also: [], home: a.home(start.call), run: { is: 'chain' } as const }));
  return [...chains, ...homes.flatMap(home => {
    const run = outermost(a, home);
    const [call, ...also] = run ? escapes(a, home) : [];
    return run && call ? [{ call, also, home, run }] : [];
  })];
}

function isOpenChain(use: PromiseUse | undefined): boolean {
  return use?.is === 'floating' && use.chained === true && !use.deliberate;
}
