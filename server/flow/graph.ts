/**
 * The control-flow graph of one function or one lambda: what is evaluated, in which order, and on which condition.
 * This module holds the shapes; `build.ts` makes graphs, `solve.ts` and `paths.ts` ask them.
 */
import type { Block, Expr, Fn, Loop, Stmt, Test } from '../ir/ir.js';

/** One node evaluated. A node may have several steps: a `finally` block stands on every way that leads through it. */
export interface Step {
  readonly id: number;
  /** Absent for the entry and the exits. */
  readonly node?: Stmt | Expr;
  readonly next: Edge[];
  readonly before: Edge[];
}

export interface Edge {
  readonly from: Step;
  readonly to: Step;
  readonly when?: Guard;
}

/** What is known to hold when an edge is taken. */
export type Guard =
  /** A condition that is neither `&&`, `||` nor `!`: those are edges already. */
  | { readonly is: 'condition'; readonly test: Expr; readonly holds: boolean }
  /** The value is null (`holds`) or not. */
  | { readonly is: 'null'; readonly value: Expr; readonly holds: boolean }
  /** The subject of a `when` or `switch` matched one test of an arm, or did not. */
  | { readonly is: 'match'; readonly subject: Expr; readonly test: Test; readonly holds: boolean }
  /** Another round, or none left. */
  | { readonly is: 'round'; readonly loop: Loop | Expr; readonly holds: boolean }
  | { readonly is: 'exception' };

export interface Graph {
  /** The function, or the module's top-level statements. */
  readonly of: Fn | Block;
  readonly entry: Step;
  /** Left by running to the end or by `return`. */
  readonly exit: Step;
  /** Left by an exception that is thrown in the text; a call that might throw outside any `try` is not an edge to it. */
  readonly thrown: Step;
  readonly steps: readonly Step[];
  /** Every step of a node, in no particular order; empty for a node that is not part of this graph. */
  stepsOf(node: Stmt | Expr): readonly Step[];
  /** Lambdas whose bodies are part of this graph because the function that takes them runs them at once. */
  readonly inlined: ReadonlySet<Fn>;
}

/** Says of a call which of its lambdas run before it returns, so that their bodies belong into the caller's graph. */
export type Inline = (call: Expr & { kind: 'Call' }) => readonly { readonly lambda: Expr & { kind: 'Lambda' }; readonly runs: 'now' | 'now-maybe' | 'now-many' }[];
