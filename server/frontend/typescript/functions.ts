/**
 * Whatever can be called: functions, methods, constructors, accessors, arrows
 * and bare signatures, with their parameters, modifiers and decorators.
 */
import ts from 'typescript';
import type { Annotation, Block, Fn, Modifier, Param, Span, Stmt, TypeRef } from '../../ir/ir.js';
import { skipTrivia, spanOf, startOf, withBreaksOf, type Building, type Lowering } from './context.js';
import { lowerArguments, lowerExpr, withoutParens } from './expressions.js';
import { lowerBindings, writtenName } from './patterns.js';
import { lowerBlock } from './statements.js';
import { isThisParameter, lowerType, nullable } from './types.js';

/** `named` stands in where the source has no name of its own for it (`constructor`). */
export function lowerFunction(cx: Lowering, node: ts.SignatureDeclaration, named?: string): Fn {
  const fn: Building<Fn> = {
    kind: 'Fn', span: spanOf(cx, node), headSpan: headSpan(cx, node), typeParams: node.typeParameters?.map((param) => param.name.text) ?? [],
    params: [], modifiers: functionModifiers(node), annotations: annotationsOf(cx, node),
  };
  if (named !== undefined) {
    fn.name = named;
  } else if (node.name !== undefined && !isIndexLike(node.name)) {
    fn.name = writtenName(cx, node.name) ?? '';
    fn.nameSpan = spanOf(cx, node.name);
  }
  const params: Param[] = [];
  for (const param of node.parameters) {
    if (!isThisParameter(param)) params.push(lowerParam(cx, param));
    else if (param.type !== undefined) fn.receiver = lowerType(cx, param.type);
  }
  fn.params = params;
  if (node.type !== undefined) fn.result = lowerType(cx, node.type);
  const body = lowerBody(cx, node);
  if (body !== undefined) fn.body = body;
  return fn;
}

/** Only JSDoc signatures are named otherwise than by a property name. */
function isIndexLike(name: ts.Node): name is never {
  return !ts.isPropertyName(name);
}

function functionModifiers(node: ts.SignatureDeclaration): ReadonlySet<Modifier> {
  const modifiers = modifiersOf(node);
  const isGenerator = 'asteriskToken' in node && node.asteriskToken !== undefined;
  return isGenerator ? new Set<Modifier>([...modifiers, 'generator']) : modifiers;
}

/**
 * From the first modifier or keyword to the end of the result type. Without one, the head ends with its parameters.
 * Decorators stand before it.
 */
function headSpan(cx: Lowering, node: ts.SignatureDeclaration): Span {
  const modifiers = ts.canHaveModifiers(node) ? node.modifiers ?? [] : [];
  const lastDecorator = modifiers.findLast(ts.isDecorator);
  const firstPlain = modifiers.find((modifier) => !ts.isDecorator(modifier));
  let start = startOf(cx, node);
  if (firstPlain !== undefined) start = startOf(cx, firstPlain);
  else if (lastDecorator !== undefined) start = skipTrivia(cx.text, lastDecorator.end);
  return { start, end: Math.max(start, headEnd(cx, node)) };
}

function headEnd(cx: Lowering, node: ts.SignatureDeclaration): number {
  if (node.type !== undefined) return node.type.end;
  const end = skipTrivia(cx.text, node.parameters.end);
  return Math.min(cx.text[end] === ')' ? end + 1 : node.parameters.end, node.end);
}

// ---- Bodies -------------------------------------------------------------

function lowerBody(cx: Lowering, node: ts.SignatureDeclaration): Block | undefined {
  if (!('body' in node) || node.body === undefined) return undefined;
  const body = node.body as ts.Block | ts.Expression;
  return withBreaksOf(cx, 'loop', () => (ts.isBlock(body) ? lowerBlock(cx, body) : expressionBody(cx, body))).result;
}

/** `=> void f()` throws its value away on purpose; any other expression is the result. */
function expressionBody(cx: Lowering, body: ts.Expression): Block {
  const span = spanOf(cx, body);
  const inner = withoutParens(body);
  const only: Stmt = ts.isVoidExpression(inner) && !ts.isNumericLiteral(inner.expression)
    ? { kind: 'ExprStmt', span: spanOf(cx, inner), expr: lowerExpr(cx, inner.expression), deliberate: true }
    : { kind: 'Return', span, value: lowerExpr(cx, body), implicit: true };
  return { kind: 'Block', span, stmts: [only] };
}

// ---- Parameters ---------------------------------------------------------

function lowerParam(cx: Lowering, node: ts.ParameterDeclaration): Param {
  const param: Building<Param> = { kind: 'Param', span: spanOf(cx, node), name: '' };
  if (ts.isIdentifier(node.name)) param.name = node.name.text;
  else param.pattern = lowerBindings(cx, node.name);
  const type = lowerTypeOf(cx, node);
  if (type !== undefined) param.type = type;
  if (node.initializer !== undefined) param.defaultValue = lowerExpr(cx, node.initializer);
  if (node.dotDotDotToken !== undefined) param.rest = true;
  if (node.questionToken !== undefined) param.optional = true;
  if (isParameterProperty(node)) param.property = true;
  return param;
}

/** The declared type of a parameter or property; one that may be left out may also be absent. */
export function lowerTypeOf(cx: Lowering, node: ts.ParameterDeclaration | ts.PropertyDeclaration): TypeRef | undefined {
  if (node.type === undefined) return undefined;
  const type = lowerType(cx, node.type);
  return node.questionToken === undefined ? type : nullable(type);
}

export function isParameterProperty(node: ts.ParameterDeclaration): boolean {
  return node.modifiers?.some((modifier) => !ts.isDecorator(modifier)) ?? false;
}

// ---- Modifiers and decorators -------------------------------------------

const MODIFIERS: ReadonlyMap<ts.SyntaxKind, Modifier> = new Map<ts.SyntaxKind, Modifier>([
  [ts.SyntaxKind.ExportKeyword, 'export'], [ts.SyntaxKind.DefaultKeyword, 'default'], [ts.SyntaxKind.AsyncKeyword, 'async'],
  [ts.SyntaxKind.StaticKeyword, 'static'], [ts.SyntaxKind.AbstractKeyword, 'abstract'], [ts.SyntaxKind.OverrideKeyword, 'override'],
  [ts.SyntaxKind.PrivateKeyword, 'private'], [ts.SyntaxKind.ProtectedKeyword, 'protected'],
  [ts.SyntaxKind.DeclareKeyword, 'declare'], [ts.SyntaxKind.ConstKeyword, 'const'],
]);

export const NO_MODIFIERS: ReadonlySet<Modifier> = new Set();

/** `readonly` is left to a field's `mutable`; a `#name` is private. */
export function modifiersOf(node: ts.Node): ReadonlySet<Modifier> {
  const written = ts.canHaveModifiers(node) ? node.modifiers : undefined;
  const name = 'name' in node ? (node.name as ts.Node | undefined) : undefined;
  const isPrivateName = name !== undefined && ts.isPrivateIdentifier(name);
  if (written === undefined && !isPrivateName) return NO_MODIFIERS;
  const found = new Set<Modifier>(isPrivateName ? ['private'] : []);
  for (const { kind } of written ?? []) {
    const modifier = MODIFIERS.get(kind);
    if (modifier !== undefined) found.add(modifier);
  }
  return found;
}

export function annotationsOf(cx: Lowering, node: ts.Node): Annotation[] {
  if (!ts.canHaveDecorators(node)) return [];
  return (ts.getDecorators(node) ?? []).map((decorator) => lowerDecorator(cx, decorator));
}

function lowerDecorator(cx: Lowering, decorator: ts.Decorator): Annotation {
  const expression = withoutParens(decorator.expression);
  const callee = ts.isCallExpression(expression) ? expression.expression : expression;
  const name = ts.isIdentifier(callee) || ts.isPropertyAccessExpression(callee) ? lastName(callee) : '';
  return {
    kind: 'Annotation', span: spanOf(cx, decorator), name,
    args: ts.isCallExpression(expression) ? lowerArguments(cx, expression.arguments) : [],
  };
}

function lastName(node: ts.Identifier | ts.PropertyAccessExpression): string {
  return ts.isIdentifier(node) ? node.text : node.name.text;
}
