/**
 * What the analysis recognised in the code it was shown, and what it did not: without these figures a clean result would
 * mean nothing. Facts count, file by file; this module only adds up.
 */
import type { Span } from '../ir/ir.js';

export interface Coverage {
  readonly links: Share;
  readonly operations: Share;
  readonly callbacks: Share;
  /** Receivers of calls that bear a platform method's name, where it is not known what they are. */
  readonly unresolved: readonly Unresolved[];
  /** Functions too large to follow: every answer about them was "unknown". */
  readonly capped: number;
}

export interface Share {
  readonly known: number;
  readonly unknown: number;
}

export interface Unresolved {
  readonly name: string;
  readonly count: number;
  /** The first of them. */
  readonly at: { readonly path: string; readonly span: Span };
}

export const nothingCovered: Coverage = {
  links: { known: 0, unknown: 0 },
  operations: { known: 0, unknown: 0 },
  callbacks: { known: 0, unknown: 0 },
  unresolved: [],
  capped: 0,
};

/** The sum over files, in their order; unresolved receivers by name, the most frequent first. */
export function sumCoverage(parts: Iterable<Coverage>): Coverage {
  const unresolved = new Map<string, Unresolved>();
  const sum = { links: { known: 0, unknown: 0 }, operations: { known: 0, unknown: 0 }, callbacks: { known: 0, unknown: 0 }, capped: 0 };
  for (const part of parts) {
    for (const what of ['links', 'operations', 'callbacks'] as const) {
      sum[what].known += part[what].known;
      sum[what].unknown += part[what].unknown;
    }
    sum.capped += part.capped;
    for (const one of part.unresolved) {
      const before = unresolved.get(one.name);
      unresolved.set(one.name, before === undefined ? one : { ...before, count: before.count + one.count });
    }
  }
  const byCount = [...unresolved.values()].sort((a, b) => b.count - a.count || (a.name < b.name ? -1 : 1));
  return { ...sum, unresolved: byCount };
}
