/** Properties of classes and files. */
import type { Expr, Field, Fn } from '../../ir/ir.js';
import { lowerAnnotations } from './lower-annotations.js';
import { lowerExpr } from './lower-expressions.js';
import { lowerAccessor, lowerLambda, lowerModifiers } from './lower-functions.js';
import { bindingsOf } from './lower-statements.js';
import { lowerType } from './lower-types.js';
import type { Lowering } from './lowering.js';
import type * as tree from './tree.js';

/** One field; several only for a destructuring, which Kotlin allows in scripts alone. */
export function lowerField(l: Lowering, decl: tree.PropertyDecl, isStatic = false): Field[] {
  const { target } = decl;
  const getter = decl.accessors.find((accessor) => accessor.which === 'get');
  const setter = decl.accessors.find((accessor) => accessor.which === 'set');
  const value = lowerValue(l, decl);
  const common = {
    kind: 'Field', span: decl.span, mutable: decl.mutable, static: isStatic,
    modifiers: lowerModifiers(decl.modifiers), annotations: lowerAnnotations(l, decl.modifiers),
    ...(decl.type && { type: lowerType(decl.type) }),
    ...(decl.receiver && { receiver: lowerType(decl.receiver) }),
  } as const;
  if ('kind' in target) {
    return bindingsOf(target).map(({ name, span }, i) => ({ ...common, span, name, nameSpan: span, ...(i === 0 && value) }));
  }
  const { name, span: nameSpan } = target;
  return [{
    ...common, name, nameSpan, ...value,
    ...(getter && { getter: lowerAccessor(l, getter, name) }), ...(setter && { setter: lowerAccessor(l, setter, name) }),
  }];
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
