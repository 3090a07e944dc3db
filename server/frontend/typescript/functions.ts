/**
 * Whatever can be called: functions, methods, constructors, accessors, arrows
 * and bare signatures, with their parameters, modifiers and decorators.
 */
import ts from 'typescript';
import type { Annotation, Block, Fn, Modifier, Param, Span, Stmt } from '../../ir/ir.js';
import { skipTrivia, spanOf, withBreaksOf, type Lowering } from './context.js';
import { lowerArguments, lowerExpr, withoutParens } from './expressions.js';
import { constantName, lowerBindings } from './patterns.js';
import { lowerBlock } from './statements.js';
import { isThisParameter, lowerType, nullable } from './types.js';

/** `named` stands in where the source has no name of its own for it (`constructor`). */
export function lowerFunction(cx: Lowering, node: ts.SignatureDeclaration, named?: string): Fn {
  const receiver = node.parameters.find(isThisParameter)?.type;
  const body = lowerBody(cx, node);
  return {
    kind: 'Fn', span: spanOf(cx, node), ...nameOf(cx, node, named), headSpan: headSpan(cx, node),
    ...(receiver && { receiver: lowerType(cx, receiver) }),
    typeParams: (node.typeParameters ?? []).map((param) => param.name.text),
    params: node.parameters.filter((param) => !isThisParameter(param)).map((param) => lowerParam(cx, param)),
    ...(node.type && { result: lowerType(cx, node.type) }),
    modifiers: functionModifiers(node), annotations: annotationsOf(cx, node),
    ...(body && { body }),
  };
}

function nameOf(cx: Lowering, node: ts.SignatureDeclaration, named: string | undefined): Pick<Fn, 'name' | 'nameSpan'> {
  const { name } = node;
  if (named !== undefined) return { name: named };
  if (name === undefined || isIndexLike(name)) return {};
  return { name: constantName(cx, name) ?? '', nameSpan: spanOf(cx, name) };
}

/** Only JSDoc signatures are named otherwise than by a property name. */
function isIndexLike(name: ts.Node): name is never {
  return !ts.isPropertyName(name);
}

function functionModifiers(node: ts.SignatureDeclaration): Set<Modifier> {
  const modifiers = modifiersOf(node);
  if ('asteriskToken' in node && node.asteriskToken !== undefined) modifiers.add('generator');
  return modifiers;
}

/**
 * From the first modifier or keyword to the end of the result type. Without one, the head ends with its parameters.
 * Decorators stand before it.
 */
function headSpan(cx: Lowering, node: ts.SignatureDeclaration): Span {
  const modifiers = ts.canHaveModifiers(node) ? node.modifiers ?? [] : [];
  const lastDecorator = modifiers.findLast(ts.isDecorator);
  const firstPlain = modifiers.find((modifier) => !ts.isDecorator(modifier));
  let start = node.getStart(cx.sf);
  if (firstPlain !== undefined) start = firstPlain.getStart(cx.sf);
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
  const name = ts.isIdentifier(node.name) ? { name: node.name.text } : { name: '', pattern: lowerBindings(cx, node.name) };
  const type = node.type && lowerType(cx, node.type);
  return {
    kind: 'Param', span: spanOf(cx, node), ...name,
    ...(type && { type: node.questionToken ? nullable(type) : type }),
    ...(node.initializer && { defaultValue: lowerExpr(cx, node.initializer) }),
    ...(node.dotDotDotToken && { rest: true }),
    ...(node.questionToken && { optional: true }),
    ...(isParameterProperty(node) && { property: true }),
  };
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

/** `readonly` is left to a field's `mutable`; a `#name` is private. */
export function modifiersOf(node: ts.Node): Set<Modifier> {
  const found = new Set<Modifier>();
  if (ts.canHaveModifiers(node)) {
    for (const { kind } of node.modifiers ?? []) {
      const modifier = MODIFIERS.get(kind);
      if (modifier !== undefined) found.add(modifier);
    }
  }
  const name = ts.getNameOfDeclaration(node as ts.Declaration);
  if (name !== undefined && ts.isPrivateIdentifier(name)) found.add('private');
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
