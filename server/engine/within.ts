/**
 * Which function a place lies in, as a name that survives edits elsewhere: `HiveLink.onCharacteristicRead`. It names
 * things for fingerprints and messages and resolves nothing.
 */
import type { AnyNode, Class, Field, File, Fn, Span } from '../ir/ir.js';
import { children } from '../ir/walk.js';

/**
 * Names of the declarations around `at`, outermost first, joined by dots; lambdas and anonymous classes add nothing.
 * Empty for a place at top level.
 */
export function within(file: File, at: Span): string {
  const names: string[] = [];
  let node: AnyNode | undefined = file;
  while (node !== undefined) {
    const name = nameOf(node);
    if (name !== undefined) names.push(name);
    node = children(node).find((child) => holds(child.span, at));
  }
  return names.join('.');
}

function nameOf(node: AnyNode): string | undefined {
  return isDeclaration(node) ? node.name : undefined;
}

function isDeclaration(node: AnyNode): node is Class | Fn | Field {
  return node.kind === 'Class' || node.kind === 'Fn' || node.kind === 'Field';
}

function holds(outer: Span, inner: Span): boolean {
  return outer.start <= inner.start && inner.end <= outer.end && outer.start < outer.end;
}
