/** A piece of model as if a fix had made it: the same in all but its places. */
import { MADE, type AnyNode } from '../../server/ir/ir.js';

const PLACES = new Set(['span', 'nameSpan', 'headSpan', 'unreadable', 'comments']);

export function asMade<N extends AnyNode>(node: N): N {
  return copy(node) as N;
}

function copy(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(copy);
  if (value instanceof Set || typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, PLACES.has(key) ? MADE : copy(part)]));
}
