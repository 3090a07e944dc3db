/**
 * Types as written, under the neutral names that both languages share.
 *
 * Nothing is resolved: an alias stays an alias. Types that compute (conditional,
 * mapped, infer) are `any`, for what they come to is not in the text.
 */
import ts from 'typescript';
import type { Class, Span, TypeRef } from '../../ir/ir.js';
import { interfaceBody } from './classes.js';
import { MAX_DEPTH, spanOf, textOf, type Lowering } from './context.js';

const NEUTRAL_NAMES: ReadonlyMap<string, string> = new Map([
  ['Array', 'list'], ['ReadonlyArray', 'list'],
  ['Record', 'map'], ['Map', 'map'], ['ReadonlyMap', 'map'], ['WeakMap', 'map'],
  ['Set', 'set'], ['ReadonlySet', 'set'], ['WeakSet', 'set'],
  ['Uint8Array', 'bytes'], ['DataView', 'bytes'], ['ArrayBuffer', 'bytes'], ['BufferSource', 'bytes'],
]);

const KEYWORDS: ReadonlyMap<ts.SyntaxKind, string> = new Map([
  [ts.SyntaxKind.NumberKeyword, 'number'], [ts.SyntaxKind.StringKeyword, 'string'], [ts.SyntaxKind.BooleanKeyword, 'boolean'],
  [ts.SyntaxKind.BigIntKeyword, 'bigint'], [ts.SyntaxKind.SymbolKeyword, 'symbol'],
  [ts.SyntaxKind.VoidKeyword, 'void'], [ts.SyntaxKind.UndefinedKeyword, 'void'], [ts.SyntaxKind.NeverKeyword, 'void'],
  [ts.SyntaxKind.AnyKeyword, 'any'], [ts.SyntaxKind.UnknownKeyword, 'any'], [ts.SyntaxKind.ObjectKeyword, 'any'],
  [ts.SyntaxKind.ThisType, 'this'],
]);

export function lowerType(cx: Lowering, node: ts.TypeNode): TypeRef {
  if (cx.depth >= MAX_DEPTH) return plain(spanOf(cx, node), 'any');
  cx.depth++;
  const type = dispatch(cx, node);
  cx.depth--;
  return type;
}

export function lowerTypes(cx: Lowering, nodes: readonly ts.TypeNode[] | undefined): TypeRef[] {
  return nodes === undefined ? [] : nodes.map((node) => lowerType(cx, node));
}

/** The same type that may also be absent: what an optional field or parameter holds. */
export function nullable(type: TypeRef): TypeRef {
  return type.nullable ? type : { ...type, nullable: true };
}

/** A named type, of which the arguments are dropped where the neutral name has none. */
export function namedType(span: Span, written: string, args: readonly TypeRef[]): TypeRef {
  const name = NEUTRAL_NAMES.get(written) ?? written;
  return { span, name, args: name === 'bytes' ? [] : args, nullable: false };
}

function plain(span: Span, name: string, args: readonly TypeRef[] = []): TypeRef {
  return { span, name, args, nullable: false };
}

function dispatch(cx: Lowering, node: ts.TypeNode): TypeRef {
  const span = spanOf(cx, node);
  const keyword = KEYWORDS.get(node.kind);
  if (keyword !== undefined) return plain(span, keyword);
  if (ts.isTypeReferenceNode(node)) return namedType(span, entityName(node.typeName), lowerTypes(cx, node.typeArguments));
  if (ts.isUnionTypeNode(node)) return unionType(cx, node, span);
  if (ts.isIntersectionTypeNode(node)) return plain(span, '&', lowerTypes(cx, node.types));
  if (ts.isArrayTypeNode(node)) return plain(span, 'list', [lowerType(cx, node.elementType)]);
  if (ts.isTupleTypeNode(node)) return plain(span, 'list', node.elements.map((element) => tupleElement(cx, element)));
  if (ts.isFunctionTypeNode(node) || ts.isConstructorTypeNode(node)) return functionType(cx, node, span);
  if (ts.isTypeLiteralNode(node)) return typeLiteral(cx, node, span);
  if (ts.isLiteralTypeNode(node)) return literalType(node, span);
  if (ts.isParenthesizedTypeNode(node)) return lowerType(cx, node.type);
  if (ts.isTypeOperatorNode(node)) return typeOperator(cx, node, span);
  if (ts.isTemplateLiteralTypeNode(node)) return plain(span, 'string');
  if (ts.isTypePredicateNode(node)) return plain(span, node.assertsModifier === undefined ? 'boolean' : 'void');
  if (ts.isTypeQueryNode(node) || ts.isIndexedAccessTypeNode(node)) return plain(span, textOf(cx, node).replace(/\s+/g, ' '));
  if (ts.isImportTypeNode(node)) return importType(cx, node, span);
  if (ts.isExpressionWithTypeArguments(node)) return namedType(span, textOf(cx, node.expression), lowerTypes(cx, node.typeArguments));
  if (ts.isMappedTypeNode(node)) return plain(span, 'map');
  if (ts.isOptionalTypeNode(node) || ts.isRestTypeNode(node) || ts.isNamedTupleMember(node)) return tupleElement(cx, node);
  return plain(span, 'any');
}

export function entityName(name: ts.EntityName): string {
  return ts.isIdentifier(name) ? name.text : `${entityName(name.left)}.${name.right.text}`;
}

/** Null and undefined become a mark; members of one and the same plain type fall together (`'a' | 'b'` is a string). */
function unionType(cx: Lowering, node: ts.UnionTypeNode, span: Span): TypeRef {
  const members: TypeRef[] = [];
  let mayBeNull = false;
  for (const type of node.types) {
    if (isNullish(type)) {
      mayBeNull = true;
      continue;
    }
    const member = lowerType(cx, type);
    mayBeNull ||= member.nullable;
    const isPlain = member.args.length === 0 && member.members === undefined;
    if (!isPlain || !members.some((other) => other.name === member.name && other.args.length === 0)) members.push(member);
  }
  if (members.length === 0) return { ...plain(span, 'void'), nullable: true };
  if (members.length === 1) return { ...members[0]!, span, nullable: mayBeNull };
  return { ...plain(span, '|', members), nullable: mayBeNull };
}

function isNullish(node: ts.TypeNode): boolean {
  if (ts.isParenthesizedTypeNode(node)) return isNullish(node.type);
  return node.kind === ts.SyntaxKind.UndefinedKeyword || isNullLiteral(node);
}

function isNullLiteral(node: ts.TypeNode): boolean {
  return ts.isLiteralTypeNode(node) && node.literal.kind === ts.SyntaxKind.NullKeyword;
}

function literalType(node: ts.LiteralTypeNode, span: Span): TypeRef {
  switch (node.literal.kind) {
    case ts.SyntaxKind.NullKeyword:
      return nullable(plain(span, 'void'));
    case ts.SyntaxKind.TrueKeyword:
    case ts.SyntaxKind.FalseKeyword:
      return plain(span, 'boolean');
    case ts.SyntaxKind.StringLiteral:
    case ts.SyntaxKind.NoSubstitutionTemplateLiteral:
      return plain(span, 'string');
    case ts.SyntaxKind.BigIntLiteral:
      return plain(span, 'bigint');
    default:
      return plain(span, 'number');
  }
}

function tupleElement(cx: Lowering, node: ts.TypeNode | ts.NamedTupleMember): TypeRef {
  if (ts.isNamedTupleMember(node)) {
    const type = lowerType(cx, node.type);
    return node.questionToken === undefined ? type : nullable(type);
  }
  if (ts.isOptionalTypeNode(node)) return nullable(lowerType(cx, node.type));
  if (ts.isRestTypeNode(node)) {
    const type = lowerType(cx, node.type);
    return type.name === 'list' ? type.args[0] ?? type : type;
  }
  return lowerType(cx, node);
}

type FunctionLike = ts.FunctionTypeNode | ts.ConstructorTypeNode | ts.CallSignatureDeclaration;

function functionType(cx: Lowering, node: FunctionLike, span: Span): TypeRef {
  let receiver: TypeRef | undefined;
  const args: TypeRef[] = [];
  for (const param of node.parameters) {
    const type = param.type === undefined ? plain(spanOf(cx, param.name), 'any') : lowerType(cx, param.type);
    if (isThisParameter(param)) receiver = type;
    else args.push(param.questionToken === undefined ? type : nullable(type));
  }
  args.push(node.type === undefined ? plain({ start: node.end, end: node.end }, 'any') : lowerType(cx, node.type));
  return { ...plain(span, 'fun', args), ...(receiver && { receiver }) };
}

export function isThisParameter(param: ts.ParameterDeclaration): boolean {
  return ts.isIdentifier(param.name) && param.name.text === 'this';
}

/** A literal of one call signature is a function type, one of index signatures alone is a map. */
function typeLiteral(cx: Lowering, node: ts.TypeLiteralNode, span: Span): TypeRef {
  const [only] = node.members;
  if (node.members.length === 1 && only !== undefined) {
    if (ts.isCallSignatureDeclaration(only)) return functionType(cx, only, span);
    if (ts.isIndexSignatureDeclaration(only)) {
      const [key] = only.parameters;
      return plain(span, 'map', lowerTypes(cx, [key?.type, only.type].filter((type) => type !== undefined)));
    }
  }
  const members: Class = interfaceBody(cx, node.members, span);
  return { ...plain(span, 'any'), members };
}

function typeOperator(cx: Lowering, node: ts.TypeOperatorNode, span: Span): TypeRef {
  switch (node.operator) {
    case ts.SyntaxKind.ReadonlyKeyword:
      return lowerType(cx, node.type);
    case ts.SyntaxKind.KeyOfKeyword:
      return plain(span, 'string');
    default:
      return plain(span, 'symbol');
  }
}

function importType(cx: Lowering, node: ts.ImportTypeNode, span: Span): TypeRef {
  const name = node.qualifier === undefined ? textOf(cx, node) : entityName(node.qualifier);
  return namedType(span, name, lowerTypes(cx, node.typeArguments));
}
