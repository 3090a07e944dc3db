/** Classes and their members. A companion's members become static members of its class. */
import {
  MADE, type Block, type Call, type Class, type EnumEntry, type Expr, type Field, type Fn, type Span, type Supertype, type TypeAlias,
} from '../../ir/ir.js';
import { lowerAnnotations } from './lower-annotations.js';
import { lowerArguments, lowerExpr } from './lower-expressions.js';
import { lowerFunction, lowerModifiers, lowerParams, lowerSecondaryConstructor } from './lower-functions.js';
import { lowerField, lowerParameterField } from './lower-fields.js';
import { lowerStmts } from './lower-statements.js';
import { lowerType } from './lower-types.js';
import type { Lowering } from './lowering.js';
import type * as tree from './tree.js';

/** The lists of a class while they are filled. */
class Members {
  readonly fields: Field[] = [];
  readonly functions: Fn[] = [];
  readonly secondary: Fn[] = [];
  readonly classes: Class[] = [];
  readonly aliases: TypeAlias[] = [];
  readonly inits: Block[] = [];
}

export function lowerClass(l: Lowering, decl: tree.ClassDecl): Class {
  const members = new Members();
  for (const param of decl.primary?.params ?? []) if (param.property) members.fields.push(lowerParameterField(l, param));
  const supertypes = decl.supertypes.map((supertype) => lowerSupertype(l, supertype));
  const entries = decl.entries.map((entry) => lowerEntry(l, entry));
  for (const member of decl.members) addMember(l, members, member);
  const primary = primaryConstructor(l, decl, members.inits);
  return {
    kind: 'Class', span: decl.span, form: formOf(decl),
    ...(decl.name && { name: decl.name.name, nameSpan: decl.name.span }), ...typeParamsOf(decl),
    supertypes, entries,
    constructors: primary ? [primary, ...members.secondary] : members.secondary,
    fields: members.fields, functions: members.functions, classes: members.classes, aliases: members.aliases,
    modifiers: lowerModifiers(decl.modifiers), annotations: lowerAnnotations(l, decl.modifiers), spreads: [],
  };
}

function formOf(decl: tree.ClassDecl): Class['form'] {
  if (decl.keyword === 'object') return decl.name ? 'object' : 'anonymous';
  if (decl.keyword === 'interface') return 'interface';
  return decl.modifiers.words.includes('enum') ? 'enum' : 'class';
}

function lowerSupertype(l: Lowering, supertype: tree.Supertype): Supertype {
  return {
    type: lowerType(supertype.type),
    ...(supertype.args && { args: lowerArguments(l, supertype.args) }),
    ...(supertype.by && { by: lowerExpr(l, supertype.by) }),
  };
}

function lowerEntry(l: Lowering, entry: tree.EnumEntry): EnumEntry {
  return {
    kind: 'EnumEntry', span: entry.span, name: entry.name.name, args: lowerArguments(l, entry.args),
    ...(entry.body && { body: lowerClass(l, entry.body) }),
  };
}

function addMember(l: Lowering, members: Members, decl: tree.Declaration, isStatic = false): void {
  switch (decl.kind) {
    case 'PropertyDecl': members.fields.push(lowerField(l, decl, isStatic)); return;
    case 'FunDecl': members.functions.push(isStatic ? lowerFunction(l, decl, 'static') : lowerFunction(l, decl)); return;
    case 'ConstructorDecl': members.secondary.push(lowerSecondaryConstructor(l, decl)); return;
    case 'TypeAliasDecl': members.aliases.push(lowerTypeAlias(decl)); return;
    case 'InitBlock': members.inits.push(lowerInit(l, decl)); return;
    case 'ClassDecl':
      if (decl.keyword === 'object' && decl.modifiers.words.includes('companion')) addCompanion(l, members, decl);
      else members.classes.push(lowerClass(l, decl));
  }
}

function lowerInit(l: Lowering, decl: tree.InitBlock): Block {
  return { kind: 'Block', span: decl.body.span, stmts: lowerStmts(l, decl.body.stmts, 'discarded') };
}

// ---- Companions ---------------------------------------------------------------

/** A companion's own `init` blocks and super constructor run when the class is loaded: nameless static fields stand for them. */
function addCompanion(l: Lowering, members: Members, companion: tree.ClassDecl): void {
  for (const supertype of companion.supertypes) {
    const values = lowerArguments(l, supertype.args ?? []).map((arg) => arg.value);
    if (supertype.by) values.push(lowerExpr(l, supertype.by));
    for (const value of values) members.fields.push(namelessField(value.span, value));
  }
  for (const member of companion.members) {
    if (member.kind === 'InitBlock') members.fields.push(namelessField(member.span, runAtOnce(lowerInit(l, member))));
    else addMember(l, members, member, true);
  }
}

function namelessField(span: Span, initial: Expr): Field {
  return {
    kind: 'Field', span, name: '', nameSpan: { start: span.start, end: span.start }, mutable: false, static: true, initial,
    modifiers: new Set(), annotations: [],
  };
}

function runAtOnce(body: Block): Call {
  const fn: Fn = { kind: 'Fn', span: MADE, typeParams: [], params: [], modifiers: new Set(), annotations: [], body };
  return { kind: 'Call', span: MADE, callee: { kind: 'Lambda', span: MADE, fn }, args: [], typeArgs: [] };
}

// ---- Constructors and aliases ---------------------------------------------------

/** The primary constructor with the `init` blocks as its body; undefined if there is nothing of either. */
function primaryConstructor(l: Lowering, decl: tree.ClassDecl, inits: readonly Block[]): Fn | undefined {
  const [first] = inits;
  if (!decl.primary && !first) return undefined;
  const at = decl.name?.span.end ?? decl.span.start;
  const span = decl.primary?.span ?? { start: at, end: at };
  const inside = first && { start: first.span.start, end: inits.at(-1)!.span.end };
  const body: Block | undefined = inside && { kind: 'Block', span: inside, stmts: inits };
  return {
    kind: 'Fn', span, name: 'constructor', typeParams: [], params: lowerParams(l, decl.primary?.params ?? []),
    modifiers: decl.primary ? lowerModifiers(decl.primary.modifiers) : new Set(),
    annotations: decl.primary ? lowerAnnotations(l, decl.primary.modifiers) : [],
    ...(body && { body }),
  };
}

export function lowerTypeAlias(decl: tree.TypeAliasDecl): TypeAlias {
  return { kind: 'TypeAlias', span: decl.span, name: decl.name.name, ...typeParamsOf(decl), type: lowerType(decl.type) };
}

function typeParamsOf(decl: tree.ClassDecl | tree.TypeAliasDecl): { typeParams?: readonly string[] } {
  return decl.typeParams.length > 0 ? { typeParams: decl.typeParams } : {};
}
