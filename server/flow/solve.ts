/**
 * A forward worklist solver over a control-flow graph. The lattice is the caller's; it must be finite in height, or the
 * cap ends the run and the answer is unknown.
 */
import type { Edge, Graph, Step } from './graph.js';

export interface Problem<S> {
  readonly entry: S;
  /** The state after a step. */
  step(step: Step, state: S): S;
  /** The state along an edge; undefined when the edge cannot be taken in this state. */
  edge?(edge: Edge, state: S): S | undefined;
  join(a: S, b: S): S;
  equal(a: S, b: S): boolean;
}

/** Visits of a step, on average, before the solver gives up. */
const VISITS = 60;

/** The state before every reached step, or undefined at the cap. */
export function solve<S>(graph: Graph, problem: Problem<S>): ReadonlyMap<Step, S> | undefined {
  const before = new Map<Step, S>([[graph.entry, problem.entry]]);
  const waiting = new Set<Step>([graph.entry]);
  let left = graph.steps.length * VISITS + 100;
  for (const step of waiting) {
    if (left-- === 0) return undefined;
    waiting.delete(step);
    const after = problem.step(step, before.get(step)!);
    for (const edge of step.next) {
      const state = problem.edge ? problem.edge(edge, after) : after;
      if (state === undefined) continue;
      const known = before.get(edge.to);
      const next = known === undefined ? state : problem.join(known, state);
      if (known !== undefined && problem.equal(known, next)) continue;
      before.set(edge.to, next);
      waiting.add(edge.to);
    }
  }
  return before;
}
