/** Annotations of declarations. */
import type { Annotation } from '../../ir/ir.js';
import { lowerArguments } from './lower-expressions.js';
import type { Lowering } from './lowering.js';
import type * as tree from './tree.js';

export function lowerAnnotations(l: Lowering, modifiers: tree.Modifiers): Annotation[] {
  return modifiers.annotations.map((annotation) => ({
    kind: 'Annotation', span: annotation.span, name: annotation.name.split('.').at(-1)!, args: lowerArguments(l, annotation.args),
  }));
}
