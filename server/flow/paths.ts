/**
 * The two questions that most rules are: can control escape from A to an exit without passing B, and is A always reached
 * through B. Both answer with a witness: the shortest way, step by step.
 */
import type { Edge, Graph, Step } from './graph.js';

export interface Stops {
  /** Steps that end a way. */
  step?(step: Step): boolean;
  /** Edges that may not be taken. */
  edge?(edge: Edge): boolean;
}

/** The shortest way from just after `from` to a step where `goal` holds, past no stop; undefined: there is none. */
export function wayFrom(from: Step, goal: (step: Step) => boolean, stops: Stops): readonly Step[] | undefined {
  const cameBy = new Map<Step, Step>();
  const queue: Step[] = [];
  const push = (edge: Edge) => {
    if (cameBy.has(edge.to) || stops.edge?.(edge)) return;
    cameBy.set(edge.to, edge.from);
    queue.push(edge.to);
  };
  from.next.forEach(push);
  for (let i = 0; i < queue.length; i++) {
    const step = queue[i]!;
    if (goal(step)) return trace(step, from, cameBy);
    if (stops.step?.(step)) continue;
    step.next.forEach(push);
  }
  return undefined;
}

/** A way from just after `from` to the function's end on which no stop holds. */
export function escape(graph: Graph, from: Step, stops: Stops): readonly Step[] | undefined {
  return wayFrom(from, step => step === graph.exit || step === graph.thrown, stops);
}

/** A way from the entry to `to` on which no gate holds: without one, `to` is always reached through a gate. */
export function unguarded(graph: Graph, to: Step, gates: Stops): readonly Step[] | undefined {
  if (to === graph.entry) return [];
  return wayFrom(graph.entry, step => step === to, gates);
}

function trace(end: Step, from: Step, cameBy: ReadonlyMap<Step, Step>): readonly Step[] {
  const way = [end];
  for (let step = cameBy.get(end); step && step !== from; step = cameBy.get(step)) {
    way.push(step);
    if (way.length > 100_000) break;
  }
  return way.reverse();
}
