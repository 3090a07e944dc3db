/**
 * Declarations of modules: what stands at the top level, what it imports and
 * exports, namespaces, and the declarations that stand among statements.
 *
 * `export default value` is a `Let` of the name `default`, and
 * `export { a as b }` one of the name `b` whose value is `a`: both hand out a
 * value under a name. A re-export is an import that others may follow.
 */
import ts from 'typescript';
import type { Class, Declaration, Expr, Field, Fn, Import, Let, Modifier, Stmt, TypeAlias } from '../../ir/ir.js';
import { MADE } from '../../ir/ir.js';
import { emptyClass, headOfClass, lowerClass, lowerEnum, lowerInterface, typeParamsOf } from './classes.js';
import { spanOf, textOf, type Lowering } from './context.js';
import { lowerExpr } from './expressions.js';
import { lowerFunction } from './functions.js';
import { pushStatement, pushVariables } from './statements.js';
import { lowerType } from './types.js';

/** Taken out once: the library hands each of its names out through a getter. */
const { SyntaxKind } = ts;

type Nested = Class | Fn | TypeAlias;

export interface ModuleContent {
  readonly declarations: Declaration[];
  readonly body: Stmt[];
}

export function lowerModule(cx: Lowering, statements: readonly ts.Statement[], isTop: boolean): ModuleContent {
  const out: ModuleContent = { declarations: [], body: [] };
  for (const node of statements) lowerTopLevel(cx, node, isTop, out);
  return out;
}

function lowerTopLevel(cx: Lowering, node: ts.Statement, isTop: boolean, out: ModuleContent): void {
  switch (node.kind) {
    case SyntaxKind.ImportDeclaration:
      pushImports(cx, node as ts.ImportDeclaration);
      return;
    case SyntaxKind.ImportEqualsDeclaration:
      pushImportEquals(cx, node as ts.ImportEqualsDeclaration, out);
      return;
    case SyntaxKind.ExportDeclaration:
      pushExports(cx, node as ts.ExportDeclaration, out);
      return;
    case SyntaxKind.ExportAssignment:
      out.body.push(exportedAs(cx, node, 'default', lowerExpr(cx, (node as ts.ExportAssignment).expression)));
      return;
    case SyntaxKind.NamespaceExportDeclaration:
      return;
    case SyntaxKind.VariableStatement:
      pushTopLevelVariables(cx, node as ts.VariableStatement, isTop, out);
      return;
    case SyntaxKind.ModuleDeclaration:
      pushNamespace(cx, node as ts.ModuleDeclaration, isTop, out);
      return;
    default: {
      const declarations = isDeclaration(node) ? lowerNested(cx, node) : undefined;
      if (declarations === undefined) pushStatement(cx, node, out.body);
      else out.declarations.push(...declarations.map((declaration) => (isTop ? markExported(cx, declaration) : declaration)));
    }
  }
}

function isDeclaration(node: ts.Statement): boolean {
  return ts.isFunctionDeclaration(node) || ts.isClassDeclaration(node) || ts.isInterfaceDeclaration(node)
    || ts.isTypeAliasDeclaration(node) || ts.isEnumDeclaration(node);
}

/** A declaration among statements. Anything else that got there (the remains of broken text) declares nothing. */
export function lowerNested(cx: Lowering, node: ts.Statement): Nested[] {
  if (ts.isFunctionDeclaration(node)) return [lowerFunction(cx, node)];
  if (ts.isClassDeclaration(node)) return [lowerClass(cx, node)];
  if (ts.isInterfaceDeclaration(node)) return [lowerInterface(cx, node)];
  if (ts.isEnumDeclaration(node)) return [lowerEnum(cx, node)];
  if (ts.isTypeAliasDeclaration(node)) return [lowerAlias(cx, node)];
  return [];
}

function lowerAlias(cx: Lowering, node: ts.TypeAliasDeclaration): TypeAlias {
  return { kind: 'TypeAlias', span: spanOf(cx, node), name: node.name.text, ...typeParamsOf(node.typeParameters), type: lowerType(cx, node.type) };
}

function markExported(cx: Lowering, declaration: Nested): Nested {
  if (declaration.kind === 'TypeAlias' || declaration.name === undefined || !cx.exported.has(declaration.name)) return declaration;
  return { ...declaration, modifiers: new Set<Modifier>([...declaration.modifiers, 'export']) };
}

function pushTopLevelVariables(cx: Lowering, node: ts.VariableStatement, isTop: boolean, out: ModuleContent): void {
  const isExported = node.modifiers?.some((modifier) => modifier.kind === SyntaxKind.ExportKeyword) ?? false;
  const lets: Stmt[] = [];
  pushVariables(cx, node.declarationList, spanOf(cx, node), lets, isExported);
  for (const stmt of lets) {
    const isListed = isTop && stmt.kind === 'Let' && stmt.bindings.some((binding) => cx.exported.has(binding.name));
    out.body.push(isListed ? { ...stmt, exported: true } : stmt);
  }
}

// ---- Imports and exports ------------------------------------------------

function pushImports(cx: Lowering, node: ts.ImportDeclaration): void {
  const from = specifierText(cx, node.moduleSpecifier);
  const clause = node.importClause;
  if (clause === undefined) {
    cx.imports.push({ kind: 'Import', span: spanOf(cx, node), from });
    return;
  }
  if (clause.name !== undefined) cx.imports.push(importOf(cx, clause.name, from, 'default', clause.name.text));
  const bindings = clause.namedBindings;
  if (bindings === undefined) return;
  if (ts.isNamespaceImport(bindings)) cx.imports.push(importOf(cx, bindings, from, undefined, bindings.name.text));
  else pushSpecifiers(cx, bindings.elements, from);
}

function pushSpecifiers(cx: Lowering, elements: readonly (ts.ImportSpecifier | ts.ExportSpecifier)[], from: string): void {
  for (const element of elements) cx.imports.push(importOf(cx, element, from, (element.propertyName ?? element.name).text, element.name.text));
}

function importOf(cx: Lowering, node: ts.Node, from: string, name: string | undefined, local: string): Import {
  return { kind: 'Import', span: spanOf(cx, node), from, ...(name !== undefined && { name }), ...(local !== name && { alias: local }) };
}

function specifierText(cx: Lowering, node: ts.Expression): string {
  return ts.isStringLiteralLike(node) ? node.text : textOf(cx, node);
}

function pushImportEquals(cx: Lowering, node: ts.ImportEqualsDeclaration, out: ModuleContent): void {
  const { moduleReference: reference, name } = node;
  if (ts.isExternalModuleReference(reference)) {
    cx.imports.push(importOf(cx, node, specifierText(cx, reference.expression), undefined, name.text));
    return;
  }
  const value = entityExpr(cx, reference);
  out.body.push({ kind: 'Let', span: spanOf(cx, node), bindings: [{ name: name.text, span: spanOf(cx, name), path: [] }], mutable: false, value });
}

function entityExpr(cx: Lowering, name: ts.EntityName): Expr {
  if (ts.isIdentifier(name)) return { kind: 'Name', span: spanOf(cx, name), name: name.text };
  return { kind: 'Member', span: spanOf(cx, name), object: entityExpr(cx, name.left), name: name.right.text, nameSpan: spanOf(cx, name.right) };
}

function pushExports(cx: Lowering, node: ts.ExportDeclaration, out: ModuleContent): void {
  const { exportClause: clause, moduleSpecifier } = node;
  if (moduleSpecifier !== undefined) {
    const from = specifierText(cx, moduleSpecifier);
    if (clause === undefined) cx.imports.push({ kind: 'Import', span: spanOf(cx, node), from });
    else if (ts.isNamespaceExport(clause)) cx.imports.push(importOf(cx, clause, from, undefined, clause.name.text));
    else pushSpecifiers(cx, clause.elements, from);
    return;
  }
  if (clause === undefined || ts.isNamespaceExport(clause)) return;
  for (const element of clause.elements) {
    const local = element.propertyName;
    if (local === undefined || local.text === element.name.text) continue;
    out.body.push(exportedAs(cx, element, element.name.text, { kind: 'Name', span: spanOf(cx, local), name: local.text }));
  }
}

function exportedAs(cx: Lowering, node: ts.Node, name: string, value: Expr): Let {
  return { kind: 'Let', span: spanOf(cx, node), bindings: [{ name, span: value.span, path: [] }], mutable: false, value, exported: true };
}

// ---- Namespaces ---------------------------------------------------------

/** `declare global` adds to the file's own level; any other namespace is an object with members. */
function pushNamespace(cx: Lowering, node: ts.ModuleDeclaration, isTop: boolean, out: ModuleContent): void {
  const { body } = node;
  if ((node.flags & ts.NodeFlags.GlobalAugmentation) !== 0 && body !== undefined && ts.isModuleBlock(body)) {
    const content = lowerModule(cx, body.statements, false);
    out.declarations.push(...content.declarations);
    out.body.push(...content.body);
    return;
  }
  const lowered = lowerNamespace(cx, node);
  out.declarations.push(isTop ? markExported(cx, lowered) : lowered);
}

function lowerNamespace(cx: Lowering, node: ts.ModuleDeclaration): Class {
  const content = namespaceContent(cx, node.body);
  const fields: Field[] = [];
  const rest: Stmt[] = [];
  for (const stmt of content.body) {
    const field = stmt.kind === 'Let' ? fieldOf(stmt) : undefined;
    if (field === undefined) rest.push(stmt);
    else fields.push(field);
  }
  return {
    ...emptyClass('object', spanOf(cx, node)), ...headOfClass(cx, node), fields,
    constructors: rest.length === 0 ? [] : [initializer(rest)],
    functions: content.declarations.filter((declaration) => declaration.kind === 'Fn'),
    classes: content.declarations.filter((declaration) => declaration.kind === 'Class'),
    aliases: content.declarations.filter((declaration) => declaration.kind === 'TypeAlias'),
  };
}

function namespaceContent(cx: Lowering, body: ts.ModuleDeclaration['body']): ModuleContent {
  if (body === undefined || ts.isIdentifier(body)) return { declarations: [], body: [] };
  if (ts.isModuleBlock(body)) return lowerModule(cx, body.statements, false);
  return { declarations: [lowerNamespace(cx, body as ts.ModuleDeclaration)], body: [] };
}

/** A namespace's variable of one plain name is a member of it. */
function fieldOf(stmt: Let): Field | undefined {
  const [binding] = stmt.bindings;
  if (stmt.bindings.length !== 1 || binding === undefined || binding.path.length > 0) return undefined;
  return {
    kind: 'Field', span: stmt.span, name: binding.name, nameSpan: binding.span, mutable: stmt.mutable, static: false,
    ...(stmt.type && { type: stmt.type }), ...(stmt.value && { initial: stmt.value }),
    modifiers: new Set<Modifier>(stmt.exported ? ['export'] : []), annotations: [],
  };
}

/** Statements of a namespace that declare nothing run when it is built. */
function initializer(stmts: Stmt[]): Fn {
  const body = { kind: 'Block', span: MADE, stmts } as const;
  return { kind: 'Fn', span: MADE, name: 'constructor', typeParams: [], params: [], modifiers: new Set(), annotations: [], body };
}

