/** What the `lower-*` modules share while they turn one file's tree into the model. */
import type { Expr, Span, Unknown } from '../../ir/ir.js';

/**
 * How deep the model may nest. Chains (`a.b().c()…`, `a + b + c…`) nest without
 * limit in the tree; whoever reads the model by recursion must not fall over them.
 */
const MAX_DEPTH = 400;

export class Lowering {
  /** How often the name `it` has been met in what was lowered so far. */
  itMentions = 0;
  /** Ranges given up because they nest too deep. */
  readonly tooDeep: Span[] = [];
  private depth = 0;

  constructor(readonly text: string) {}

  textOf(span: Span): string {
    return this.text.slice(span.start, span.end);
  }

  /** Lowers one level deeper; beyond the limit the node is unknown and its text unreadable. */
  deeper<T>(span: Span, lower: () => T, tooDeep: (unknown: Unknown) => T): T {
    if (this.depth >= MAX_DEPTH) {
      this.tooDeep.push(span);
      return tooDeep(unknown(span));
    }
    this.depth++;
    const result = lower();
    this.depth--;
    return result;
  }
}

export function unknown(span: Span, children: readonly Expr[] = []): Unknown {
  return { kind: 'Unknown', span, children };
}
