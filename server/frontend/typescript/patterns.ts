/**
 * Names of members, and the patterns that take a value apart.
 *
 * A pattern becomes a flat list of bindings, each with the path that leads from
 * the value to its name. A default in the middle of a path is kept, where it does
 * more than stand in for an absent object, as a binding without a name.
 */
import ts from 'typescript';
import type { Assign, Binding, Expr, Span, Stmt } from '../../ir/ir.js';
import { MADE } from '../../ir/ir.js';
import { spanFrom, spanOf, textOf, type Building, type Lowering } from './context.js';
import { lowerExpr } from './expressions.js';

/** Taken out once: the library hands each of its names out through a getter. */
const { SyntaxKind } = ts;

/** The name of a member as its users write it, or undefined where it is computed while the program runs. */
export function constantName(cx: Lowering, name: ts.PropertyName | ts.JsxAttributeName): string | undefined {
  switch (name.kind) {
    case SyntaxKind.Identifier:
    case SyntaxKind.PrivateIdentifier:
    case SyntaxKind.StringLiteral:
    case SyntaxKind.NoSubstitutionTemplateLiteral:
    case SyntaxKind.NumericLiteral:
    case SyntaxKind.BigIntLiteral:
      return name.text;
    case SyntaxKind.ComputedPropertyName:
      return computedName(cx, name.expression);
    default:
      return textOf(cx, name);
  }
}

/**
 * A member's name, or its key in brackets where that is a plain path to a value (`[Topic.status]`): the member is then known,
 * only not by which name. Undefined where the key has to be evaluated.
 */
export function writtenName(cx: Lowering, name: ts.PropertyName): string | undefined {
  const constant = constantName(cx, name);
  if (constant !== undefined || !ts.isComputedPropertyName(name)) return constant;
  return isPath(name.expression) ? `[${textOf(cx, name.expression)}]` : undefined;
}

function isPath(node: ts.Expression): boolean {
  return ts.isIdentifier(node) || (ts.isPropertyAccessExpression(node) && isPath(node.expression));
}

function computedName(cx: Lowering, key: ts.Expression): string | undefined {
  if (ts.isStringLiteralLike(key) || ts.isNumericLiteral(key)) return key.text;
  const isWellKnownSymbol = ts.isPropertyAccessExpression(key) && ts.isIdentifier(key.expression) && key.expression.text === 'Symbol';
  return isWellKnownSymbol ? `[${textOf(cx, key)}]` : undefined;
}

// ---- Declared patterns --------------------------------------------------

export function lowerBindings(cx: Lowering, name: ts.BindingName): Binding[] {
  const bindings: Binding[] = [];
  addBindings(cx, name, [], undefined, bindings);
  return bindings;
}

type Path = readonly (string | number)[];

function addBindings(cx: Lowering, name: ts.BindingName, path: Path, element: ts.BindingElement | undefined, out: Binding[]): void {
  if (ts.isIdentifier(name)) {
    const binding: Building<Binding> = { name: name.text, span: spanOf(cx, name), path };
    if (element?.initializer !== undefined) binding.defaultValue = lowerExpr(cx, element.initializer);
    if (element?.dotDotDotToken !== undefined) binding.rest = true;
    out.push(binding);
    return;
  }
  addNamelessDefault(cx, element?.initializer, path, out);
  name.elements.forEach((part, position) => {
    if (ts.isOmittedExpression(part)) return;
    addBindings(cx, part.name, [...path, ...stepsTo(cx, name, part, position)], part, out);
  });
}

/** A rest takes what is left of the very value that the pattern stands for, so its path goes no further. */
function stepsTo(cx: Lowering, pattern: ts.BindingPattern, element: ts.BindingElement, position: number): Path {
  if (element.dotDotDotToken !== undefined) return [];
  if (ts.isArrayBindingPattern(pattern)) return [position];
  const key = element.propertyName ?? element.name;
  if (ts.isObjectBindingPattern(key) || ts.isArrayBindingPattern(key)) return [];
  return [constantName(cx, key) ?? textOf(cx, key)];
}

function addNamelessDefault(cx: Lowering, initializer: ts.Expression | undefined, path: Path, out: Binding[]): void {
  if (initializer === undefined || isEmptyLiteral(initializer)) return;
  out.push({ name: '', span: spanOf(cx, initializer), path, defaultValue: lowerExpr(cx, initializer) });
}

function isEmptyLiteral(node: ts.Expression): boolean {
  return (ts.isObjectLiteralExpression(node) && node.properties.length === 0)
    || (ts.isArrayLiteralExpression(node) && node.elements.length === 0);
}

// ---- Assigned patterns --------------------------------------------------

export function isAssignedPattern(node: ts.Expression): node is ts.ObjectLiteralExpression | ts.ArrayLiteralExpression {
  return ts.isObjectLiteralExpression(node) || ts.isArrayLiteralExpression(node);
}

/**
 * `({ a: x, b: y } = value)` as a statement. One plain target is assigned its part of the value; of several,
 * each is assigned something unknown, for the model has no name for a value that is taken apart.
 */
export function pushPatternAssignment(cx: Lowering, node: ts.BinaryExpression, span: Span, out: Stmt[]): void {
  const targets = patternTargets(cx, node.left);
  const value = lowerExpr(cx, node.right);
  const [only] = targets;
  if (targets.length === 1 && only !== undefined && only.step !== undefined) {
    out.push({ kind: 'Assign', span, target: lowerExpr(cx, only.node), value: partOf(value, only.step) });
    return;
  }
  if (targets.length === 0) {
    out.push({ kind: 'ExprStmt', span, expr: value });
    return;
  }
  targets.forEach(({ node: target, extra }, i) => {
    const isLast = i === targets.length - 1;
    const evaluated = isLast ? [...extra, node.right] : extra;
    const assign: Assign = {
      kind: 'Assign', span: spanFrom(cx, target, evaluated.at(-1) ?? target), target: lowerExpr(cx, target),
      value: { kind: 'Unknown', span: MADE, children: [...extra.map((expr) => lowerExpr(cx, expr)), ...(isLast ? [value] : [])] },
    };
    out.push(assign);
  });
}

/** The same in the place of a value: nothing is known but what it evaluates. */
export function lowerPatternAssignment(cx: Lowering, node: ts.BinaryExpression): Expr {
  const parts = patternTargets(cx, node.left).flatMap(({ node: target, extra }) => [target, ...extra]);
  return { kind: 'Unknown', span: spanOf(cx, node), children: [...parts, node.right].map((part) => lowerExpr(cx, part)) };
}

function partOf(value: Expr, step: string | number): Expr {
  if (typeof step === 'string') return { kind: 'Member', span: MADE, object: value, name: step, nameSpan: MADE };
  return { kind: 'Index', span: MADE, object: value, index: { kind: 'Literal', span: MADE, value: step } };
}

interface Target {
  readonly node: ts.Expression;
  /** Set where the target takes a direct part of the value, without a default. */
  readonly step?: string | number;
  /** Defaults and computed keys that are evaluated on the way. */
  readonly extra: readonly ts.Expression[];
}

function patternTargets(cx: Lowering, pattern: ts.Expression): Target[] {
  if (ts.isParenthesizedExpression(pattern)) return patternTargets(cx, pattern.expression);
  if (ts.isArrayLiteralExpression(pattern)) return pattern.elements.flatMap((element, i) => elementTargets(cx, element, i));
  if (ts.isObjectLiteralExpression(pattern)) return pattern.properties.flatMap((property) => propertyTargets(cx, property));
  return [{ node: pattern, extra: [] }];
}

function propertyTargets(cx: Lowering, property: ts.ObjectLiteralElementLike): Target[] {
  if (ts.isShorthandPropertyAssignment(property)) {
    const { name, objectAssignmentInitializer: initializer } = property;
    return [initializer === undefined ? { node: name, step: name.text, extra: [] } : { node: name, extra: [initializer] }];
  }
  if (ts.isPropertyAssignment(property)) return elementTargets(cx, property.initializer, constantName(cx, property.name));
  if (ts.isSpreadAssignment(property)) return elementTargets(cx, property.expression, undefined);
  return [];
}

function elementTargets(cx: Lowering, element: ts.Expression, step: string | number | undefined): Target[] {
  if (ts.isOmittedExpression(element)) return [];
  if (ts.isSpreadElement(element)) return elementTargets(cx, element.expression, undefined);
  if (ts.isBinaryExpression(element) && element.operatorToken.kind === SyntaxKind.EqualsToken) {
    return withDefault(elementTargets(cx, element.left, undefined), element.right);
  }
  if (isAssignedPattern(element)) return patternTargets(cx, element).map(({ node, extra }) => ({ node, extra }));
  return [{ node: element, ...(step !== undefined && { step }), extra: [] }];
}

/** A default is evaluated once, after all that stands before it. */
function withDefault(targets: readonly Target[], value: ts.Expression): Target[] {
  return targets.map(({ node, extra }, i) => ({ node, extra: i === targets.length - 1 ? [...extra, value] : extra }));
}
