/** Properties of classes and files. */
import type { Expr, Field, Fn } from '../../ir/ir.js';
import { lowerAnnotations } from './lower-annotations.js';
import { lowerExpr } from './lower-expressions.js';
import { lowerAccessor, lowerLambda, lowerModifiers } from './lower-functions.js';
import { lowerType } from './lower-types.js';
import type { Lowering } from './lowering.js';
import type * as tree from './tree.js';

/** A property that takes a value apart, which no class or file may have, is kept without its names. */
export function lowerField(l: Lowering, decl: tree.PropertyDecl, isStatic = false): Field {
  const { name, span: nameSpan } = 'kind' in decl.target ? { name: '', span: decl.target.span } : decl.target;
  const getter = decl.accessors.find((accessor) => accessor.which === 'get');
  const setter = decl.accessors.find((accessor) => accessor.which === 'set');
  return {
    kind: 'Field', span: decl.span, name, nameSpan, mutable: decl.mutable, static: isStatic,
    modifiers: lowerModifiers(decl.modifiers), annotations: lowerAnnotations(l, decl.modifiers),
    ...(decl.type && { type: lowerType(decl.type) }),
    ...(decl.receiver && { receiver: lowerType(decl.receiver) }),
    ...lowerValue(l, decl),
    ...(getter && { getter: lowerAccessor(l, getter, name) }), ...(setter && { setter: lowerAccessor(l, setter, name) }),
  };
}

/** The initial value, or what a delegate makes of it: `by lazy { … }` is a getter. */
function lowerValue(l: Lowering, decl: tree.PropertyDecl): { initial?: Expr; delegate?: Expr; getter?: Fn } {
  if (!decl.value) return {};
  if (!decl.delegated) return { initial: lowerExpr(l, decl.value) };
  const lambda = lazyLambda(decl.value);
  return lambda ? { getter: lowerLambda(l, lambda, 'lazy').fn } : { delegate: lowerExpr(l, decl.value) };
}

function lazyLambda(value: tree.Expr): tree.Lambda | undefined {
  if (value.kind !== 'Call' || value.callee.kind !== 'Name' || value.callee.name !== 'lazy') return undefined;
  const last = value.args?.at(-1)?.value;
  return last?.kind === 'Lambda' ? last : undefined;
}

/** The property that a constructor parameter declares. */
export function lowerParameterField(l: Lowering, param: tree.Parameter): Field {
  return {
    kind: 'Field', span: param.span, name: param.name, nameSpan: param.nameSpan, mutable: param.property === 'var', static: false,
    modifiers: lowerModifiers(param.modifiers), annotations: lowerAnnotations(l, param.modifiers), fromParam: true,
    ...(param.type && { type: lowerType(param.type) }),
  };
}
