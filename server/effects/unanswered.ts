/** Awaited operations whose failure reaches nobody: the function that waits is run by something that drops its promise. */
import type { Block, Call, File, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { escapes, outermost, type Outermost } from './rejections.js';

export interface Unanswered {
  /** The first call whose rejection leaves the function. */
  readonly call: Call;
  /** The others, in order. */
  readonly also: readonly Call[];
  readonly home: Fn | Block;
  readonly run: Outermost;
}

export function unansweredIn(a: Analysis, file: File): readonly Unanswered[] {
  if (file.language !== 'typescript') return [];
  const homes: (Fn | Block)[] = [file.body];
  a.eachBelow(file, node => {
    if (node.kind === 'Fn' && node.body && node.modifiers.has('async')) homes.push(node);
    return undefined;
  });
  return homes.flatMap(home => {
    const run = outermost(a, home);
    const [call, ...also] = run ? escapes(a, home) : [];
    return run && call ? [{ call, also, home, run }] : [];
  });
}
