/**
 * Everything with members: classes, interfaces, enums, object literals, type
 * literals and namespaces, all of them `Class` with a form.
 */
import ts from 'typescript';
import type { Class, EnumEntry, Expr, Field, Fn, Modifier, Span, Supertype } from '../../ir/ir.js';
import { MADE } from '../../ir/ir.js';
import { spanOf, startOf, textOf, type Building, type Lowering } from './context.js';
import { lowerArguments, lowerExpr, typeNamed } from './expressions.js';
import { annotationsOf, isParameterProperty, lowerFunction, lowerTypeOf, modifiersOf, NO_MODIFIERS } from './functions.js';
import { constantName, writtenName } from './patterns.js';
import { lowerBlock } from './statements.js';
import { lowerType, lowerTypes, namedType } from './types.js';

/** Taken out once: the library hands each of its names out through a getter. */
const { SyntaxKind } = ts;

export function emptyClass(form: Class['form'], span: Span): Class {
  return {
    kind: 'Class', span, form, supertypes: [], constructors: [], fields: [], functions: [], classes: [], aliases: [], entries: [],
    modifiers: NO_MODIFIERS, annotations: [], spreads: [],
  };
}

/** Name, place, modifiers and decorators of a declaration that has them. */
export function headOfClass(cx: Lowering, node: ts.ClassLikeDeclaration | ts.InterfaceDeclaration | ts.EnumDeclaration | ts.ModuleDeclaration): Partial<Class> {
  const { name } = node;
  return {
    ...(name && { name: name.text, nameSpan: spanOf(cx, name) }),
    ...('typeParameters' in node && typeParamsOf(node.typeParameters)),
    modifiers: modifiersOf(node), annotations: annotationsOf(cx, node),
  };
}

/** The names of type parameters, as the model keeps them on classes and aliases. */
export function typeParamsOf(nodes: readonly ts.TypeParameterDeclaration[] | undefined): { typeParams?: string[] } {
  return nodes === undefined || nodes.length === 0 ? {} : { typeParams: nodes.map((node) => node.name.text) };
}

export function lowerClass(cx: Lowering, node: ts.ClassLikeDeclaration): Class {
  return {
    ...emptyClass('class', spanOf(cx, node)), ...headOfClass(cx, node),
    supertypes: (node.heritageClauses ?? []).flatMap((clause) => clause.types.map((type) => lowerSupertype(cx, type))),
    ...lowerMembers(cx, node.members),
  };
}

/** `extends mixin(Base)` is kept as Kotlin's `: mixin(Base)` is: a type with arguments. */
function lowerSupertype(cx: Lowering, node: ts.ExpressionWithTypeArguments): Supertype {
  const { expression } = node;
  const span = spanOf(cx, node);
  const args = lowerTypes(cx, node.typeArguments);
  const named = typeNamed(cx, expression);
  if (named !== undefined) return { type: { ...named, span, args } };
  if (ts.isCallExpression(expression)) {
    const callee = typeNamed(cx, expression.expression);
    if (callee !== undefined) return { type: callee, args: lowerArguments(cx, expression.arguments) };
  }
  return { type: namedType(span, 'any', []), args: [{ value: lowerExpr(cx, expression) }] };
}

export function lowerInterface(cx: Lowering, node: ts.InterfaceDeclaration): Class {
  return {
    ...interfaceBody(cx, node.members, spanOf(cx, node)), ...headOfClass(cx, node),
    supertypes: (node.heritageClauses ?? []).flatMap((clause) => clause.types.map((type) => ({ type: lowerType(cx, type) }))),
  };
}

/** Also the members of an inline object type. */
export function interfaceBody(cx: Lowering, members: readonly ts.TypeElement[], span: Span): Class {
  return { ...emptyClass('interface', span), ...lowerMembers(cx, members) };
}

export function lowerEnum(cx: Lowering, node: ts.EnumDeclaration): Class {
  const entries = node.members.map((member): EnumEntry => ({
    kind: 'EnumEntry', span: spanOf(cx, member), name: constantName(cx, member.name) ?? textOf(cx, member.name), args: [],
    ...(member.initializer && { value: lowerExpr(cx, member.initializer) }),
  }));
  return { ...emptyClass('enum', spanOf(cx, node)), ...headOfClass(cx, node), entries };
}

export function lowerObjectLiteral(cx: Lowering, node: ts.ObjectLiteralExpression): Class {
  return { ...emptyClass('anonymous', spanOf(cx, node)), ...lowerMembers(cx, node.properties) };
}

// ---- Members ------------------------------------------------------------

type Member = ts.ClassElement | ts.TypeElement | ts.ObjectLiteralElementLike;
type Members = Pick<Class, 'constructors' | 'fields' | 'functions' | 'spreads'>;

interface Gathered {
  readonly constructors: Fn[];
  readonly fields: Field[];
  readonly functions: Fn[];
  readonly spreads: Expr[];
}

function lowerMembers(cx: Lowering, members: readonly Member[]): Members {
  const out: Gathered = { constructors: [], fields: [], functions: [], spreads: [] };
  for (let i = 0; i < members.length; i++) {
    const member = members[i]!;
    const key = keyOf(cx, member);
    if (key === 'computed') {
      out.spreads.push(lowerComputed(cx, member));
      continue;
    }
    if (key === 'path') out.spreads.push({ kind: 'Unknown', span: MADE, children: [] });
    if (ts.isGetAccessor(member) || ts.isSetAccessor(member)) {
      const other = partnerOf(cx, member, members[i + 1]);
      out.fields.push(lowerAccessors(cx, member, other));
      if (other !== undefined) i++;
    } else {
      lowerMember(cx, member, out);
    }
  }
  // The one with a body comes before the overloads that announce it.
  out.constructors.sort((a, b) => Number(b.body !== undefined) - Number(a.body !== undefined));
  return out;
}

function lowerMember(cx: Lowering, node: Member, out: Gathered): void {
  switch (node.kind) {
    case SyntaxKind.Constructor:
    case SyntaxKind.ConstructSignature: {
      const constructor = node as ts.ConstructorDeclaration;
      out.constructors.push(lowerFunction(cx, constructor, 'constructor'));
      for (const param of constructor.parameters) if (isParameterProperty(param)) out.fields.push(fieldFromParam(cx, param));
      return;
    }
    case SyntaxKind.MethodDeclaration:
    case SyntaxKind.MethodSignature:
    case SyntaxKind.CallSignature:
      out.functions.push(lowerFunction(cx, node as ts.MethodDeclaration));
      return;
    case SyntaxKind.PropertyDeclaration:
    case SyntaxKind.PropertySignature:
      out.fields.push(lowerProperty(cx, node as ts.PropertyDeclaration));
      return;
    case SyntaxKind.PropertyAssignment:
    case SyntaxKind.ShorthandPropertyAssignment:
      out.fields.push(lowerAssignedProperty(cx, node as ts.PropertyAssignment | ts.ShorthandPropertyAssignment));
      return;
    case SyntaxKind.SpreadAssignment:
      out.spreads.push(lowerExpr(cx, (node as ts.SpreadAssignment).expression));
      return;
    case SyntaxKind.ClassStaticBlockDeclaration:
      out.fields.push(lowerStaticBlock(cx, node as ts.ClassStaticBlockDeclaration));
  }
}

/** A `path` key names a value, which is the name: like a spread, it leaves the names of the members uncertain. */
function keyOf(cx: Lowering, { name }: Member): 'constant' | 'path' | 'computed' {
  if (name === undefined || !ts.isComputedPropertyName(name) || constantName(cx, name) !== undefined) return 'constant';
  return writtenName(cx, name) === undefined ? 'computed' : 'path';
}

/** A member whose key has to be evaluated is kept as what it evaluates. */
function lowerComputed(cx: Lowering, member: Member): Expr {
  const key = lowerExpr(cx, (member.name as ts.ComputedPropertyName).expression);
  const children = [key];
  if (ts.isFunctionLike(member)) children.push({ kind: 'Lambda', span: MADE, fn: anonymous(lowerFunction(cx, member)) });
  else if ('initializer' in member && member.initializer !== undefined) children.push(lowerExpr(cx, member.initializer as ts.Expression));
  return { kind: 'Unknown', span: spanOf(cx, member), children };
}

/** The same function without its computed key, which is evaluated outside of it. */
function anonymous(fn: Fn): Fn {
  const { name: _name, nameSpan, headSpan, ...rest } = fn;
  const start = nameSpan?.end ?? fn.span.start;
  return { ...rest, span: { start, end: fn.span.end }, ...(headSpan && { headSpan: { start, end: headSpan.end } }) };
}

function lowerProperty(cx: Lowering, node: ts.PropertyDeclaration): Field {
  const modifiers = modifiersOf(node);
  const field: Building<Field> = {
    kind: 'Field', span: spanOf(cx, node), name: writtenName(cx, node.name) ?? '', nameSpan: spanOf(cx, node.name),
    mutable: !isReadonly(node), static: modifiers.has('static'), modifiers: withoutStatic(modifiers), annotations: annotationsOf(cx, node),
  };
  const type = lowerTypeOf(cx, node);
  if (type !== undefined) field.type = type;
  if (node.initializer !== undefined) field.initial = lowerExpr(cx, node.initializer);
  return field;
}

/** A field says so itself. */
function withoutStatic(modifiers: ReadonlySet<Modifier>): ReadonlySet<Modifier> {
  return modifiers.has('static') ? new Set([...modifiers].filter((modifier) => modifier !== 'static')) : modifiers;
}

function isReadonly(node: ts.PropertyDeclaration | ts.ParameterDeclaration): boolean {
  return node.modifiers?.some((modifier) => modifier.kind === SyntaxKind.ReadonlyKeyword) ?? false;
}

function fieldFromParam(cx: Lowering, node: ts.ParameterDeclaration): Field {
  const type = lowerTypeOf(cx, node);
  return {
    kind: 'Field', span: spanOf(cx, node), name: textOf(cx, node.name), nameSpan: spanOf(cx, node.name), ...(type && { type }),
    mutable: !isReadonly(node), static: false, modifiers: modifiersOf(node), annotations: [], fromParam: true,
  };
}

function lowerAssignedProperty(cx: Lowering, node: ts.PropertyAssignment | ts.ShorthandPropertyAssignment): Field {
  const nameSpan = spanOf(cx, node.name);
  return {
    kind: 'Field', span: spanOf(cx, node), name: writtenName(cx, node.name) ?? '', nameSpan, mutable: true, static: false,
    initial: lowerExpr(cx, ts.isPropertyAssignment(node) ? node.initializer : node.name), modifiers: NO_MODIFIERS, annotations: [],
  };
}

/** A nameless static field whose value is the block, run at once: that is when and what it is. */
function lowerStaticBlock(cx: Lowering, node: ts.ClassStaticBlockDeclaration): Field {
  const span = spanOf(cx, node);
  const body = lowerBlock(cx, node.body);
  const fn: Fn = { kind: 'Fn', span: MADE, typeParams: [], params: [], modifiers: NO_MODIFIERS, annotations: [], body };
  return {
    kind: 'Field', span, name: '', nameSpan: { start: span.start, end: span.start + 'static'.length }, mutable: false, static: true,
    modifiers: NO_MODIFIERS, annotations: [],
    initial: { kind: 'Call', span: MADE, callee: { kind: 'Lambda', span: MADE, fn }, args: [], typeArgs: [] },
  };
}

// ---- Accessors ----------------------------------------------------------

/** The other half of a property, where it is the next member; apart from each other they are two fields of one name. */
function partnerOf(cx: Lowering, first: ts.AccessorDeclaration, next: Member | undefined): ts.AccessorDeclaration | undefined {
  if (next === undefined || !(ts.isGetAccessor(next) || ts.isSetAccessor(next)) || next.kind === first.kind) return undefined;
  const sameName = writtenName(cx, next.name) === writtenName(cx, first.name);
  return sameName && isStatic(next) === isStatic(first) ? next : undefined;
}

function isStatic(node: ts.AccessorDeclaration): boolean {
  return node.modifiers?.some((modifier) => modifier.kind === SyntaxKind.StaticKeyword) ?? false;
}

/** Decorators stay with the accessor that carries them. */
function lowerAccessors(cx: Lowering, first: ts.AccessorDeclaration, second: ts.AccessorDeclaration | undefined): Field {
  const get = [first, second].find((accessor) => accessor !== undefined && ts.isGetAccessor(accessor));
  const set = [first, second].find((accessor) => accessor !== undefined && ts.isSetAccessor(accessor));
  const getter = get && lowerFunction(cx, get);
  const setter = set && lowerFunction(cx, set);
  const type = getter?.result ?? setter?.params[0]?.type;
  return {
    kind: 'Field', span: { start: startOf(cx, first), end: (second ?? first).end },
    name: writtenName(cx, first.name) ?? '', nameSpan: spanOf(cx, first.name), ...(type && { type }),
    mutable: setter !== undefined, static: isStatic(first), modifiers: withoutStatic(modifiersOf(first)), annotations: [],
    ...(getter && { getter }), ...(setter && { setter }),
  };
}
