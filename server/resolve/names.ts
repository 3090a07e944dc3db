/**
 * What a name, a member access, a function reference and `this` refer to.
 */
import type { AnyNode, Call, Class, Expr, Fn, FnRef, Member, Name } from '../ir/ir.js';
import type { Decl, Ty } from './api.js';
import type { Core, Found } from './core.js';
import { memberDecl } from './decls.js';
import { extensionsOn } from './extensions.js';
import { inType } from './members.js';
import { exported, kotlinQualified, moduleFile } from './modules.js';
import { eachMeaning } from './scope.js';
import { instanceOf, substitute } from './types.js';

/** One declaration, and the arguments that stand for its type parameters where it was found. */
export interface Reference {
  readonly decl: Decl;
  readonly found: Found;
}

// ---- Names ----------------------------------------------------------------

export function referenceOf(core: Core, expr: Name | Member): Reference | undefined {
  const call = calledBy(core, expr);
  if (call !== undefined) return calleeReference(core, call);
  return expr.kind === 'Name' ? nameReference(core, expr.name, expr) : memberReference(core, expr);
}

/** The call whose callee an expression is. */
function calledBy(core: Core, expr: Expr): Call | undefined {
  const parent = core.program.parentOf(expr);
  return parent?.kind === 'Call' && parent.callee === expr ? parent : undefined;
}

function calleeReference(core: Core, call: Call): Reference | undefined {
  const target = core.targetOf(call);
  const found = target.found;
  if (found === undefined) return undefined;
  const fn = target.fns[0];
  const member = target.members[0];
  const decl = found.decls.find((each) => (each.is === 'fn' && each.node === fn) || (each.is === 'platform' && member !== undefined && each.member === member));
  const first = decl ?? found.decls[0];
  return first && { decl: first, found };
}

/** A bare name that is not called. Kotlin keeps functions and values apart; TypeScript does not. */
export function nameReference(core: Core, name: string, at: AnyNode): Reference | undefined {
  const mayBeFn = core.languageAt(at) === 'typescript';
  return eachMeaning(core, name, at, (found) => {
    const decl = found.decls.find((each) => isValue(each, mayBeFn));
    return decl && { decl, found };
  }) ?? extensionProperty(core, name, at);
}

function isValue(decl: Decl, mayBeFn: boolean): boolean {
  switch (decl.is) {
    case 'fn': return mayBeFn;
    case 'alias': return !mayBeFn;
    case 'class': return decl.node.form !== 'interface' || !mayBeFn;
    case 'field': return decl.node.receiver === undefined;
    case 'platform': return decl.member === undefined || isReadable(decl.member);
    default: return true;
  }
}

function isReadable(member: { readonly kind: string; readonly params?: readonly unknown[]; readonly result?: string; readonly name: string }): boolean {
  return member.kind !== 'method' || (member.params?.length === 0 && member.result !== undefined);
}

/** `val BluetoothGatt.isOpen`, read on a receiver that nobody wrote. */
function extensionProperty(core: Core, name: string, at: AnyNode): Reference | undefined {
  for (const receiver of implicitReceivers(core, at)) {
    const found = extensionsOn(core, receiver, name, at, 'Field');
    if (found !== undefined) return { decl: found.decls[0]!, found: { ...found, implicit: true } };
  }
  return undefined;
}

/** The receivers that a bare name may be meant for in Kotlin: innermost first. */
export function implicitReceivers(core: Core, at: AnyNode): readonly Ty[] {
  if (core.languageAt(at) !== 'kotlin') return [];
  const receivers: Ty[] = [];
  for (let node = core.program.parentOf(at); node !== undefined; node = core.program.parentOf(node)) {
    if (node.kind === 'Fn') {
      const receiver = core.receiverOf(node);
      if (receiver !== undefined) receivers.push(receiver);
    }
    if (node.kind === 'Class') receivers.push(core.selfOf(node));
  }
  return receivers;
}

// ---- Members --------------------------------------------------------------

function memberReference(core: Core, expr: Member): Reference | undefined {
  const outside = qualifiedReference(core, expr);
  if (outside !== undefined) return outside;
  const on = core.typeOf(expr.object);
  if (on === undefined) return undefined;
  const mayBeFn = core.languageAt(expr) === 'typescript';
  const found = inType(core, on, expr.name, core.languageAt(expr));
  const decl = found?.decls.find((each) => (each.is === 'platform' && each.member !== undefined ? mayBeFn || isReadable(each.member) : isValue(each, true)));
  if (found !== undefined && decl !== undefined) return { decl, found };
  const extension = extensionsOn(core, on, expr.name, expr, 'Field');
  return extension && { decl: extension.decls[0]!, found: extension };
}

/**
 * `namespace.member` of an imported module, and Kotlin's names written in full: neither has an object that is a value.
 */
function qualifiedReference(core: Core, expr: Member): Reference | undefined {
  const decls = qualifiedDecls(core, expr);
  return decls.length === 0 ? undefined : { decl: decls[0]!, found: { decls } };
}

export function qualifiedDecls(core: Core, expr: Member): readonly Decl[] {
  const root = rootName(expr);
  if (root === undefined) return [];
  if (core.languageAt(expr) === 'typescript') return expr.object.kind === 'Name' ? namespaceMember(core, expr, root, expr.name) : [];
  if (!GENERAL_ROOTS.has(root) && !core.program.isPackageRoot(root)) return [];
  const path = pathOf(expr);
  return path === undefined || nameReference(core, root, expr) !== undefined ? [] : kotlinQualified(core, path.join('.'));
}

/** First segments of the packages that the catalogue's types are in. */
const GENERAL_ROOTS = new Set(['android', 'androidx', 'java', 'javax', 'kotlin', 'kotlinx']);

function rootName(expr: Member): string | undefined {
  let at: Expr = expr;
  while (at.kind === 'Member') at = at.object;
  return at.kind === 'Name' ? at.name : undefined;
}

function namespaceMember(core: Core, at: AnyNode, alias: string, name: string): readonly Decl[] {
  const file = core.program.fileOf(at);
  const star = file?.imports.find((each) => each.name === undefined && each.alias === alias);
  const target = star && file && moduleFile(core, file, star.from);
  if (target === undefined) return [];
  const shadow = nameReference(core, alias, at)?.decl;
  return shadow === undefined || shadow.is === 'import' ? exported(core, target, name, new Set()) : [];
}

/** `['a', 'b', 'c']` for `a.b.c`. */
function pathOf(expr: Expr): string[] | undefined {
  if (expr.kind === 'Name') return [expr.name];
  if (expr.kind !== 'Member' || expr.safe !== undefined) return undefined;
  const above = pathOf(expr.object);
  above?.push(expr.name);
  return above;
}

// ---- Function references --------------------------------------------------

const REFERABLE = new Set<Decl['is']>(['fn', 'field', 'class', 'platform']);

/** `::f`, `x::f`, `T::f`: the functions meant, or the property. */
export function fnRefFound(core: Core, expr: FnRef): Found | undefined {
  if (expr.object === undefined) {
    return eachMeaning(core, expr.name, expr, (found) => (found.decls.some((decl) => REFERABLE.has(decl.is)) ? found : undefined));
  }
  const on = core.typeOf(expr.object);
  if (on === undefined) return undefined;
  return inType(core, instanceOf(on), expr.name, core.languageAt(expr)) ?? extensionsOn(core, instanceOf(on), expr.name, expr, 'Fn');
}

// ---- This -----------------------------------------------------------------

export function thisAt(core: Core, at: AnyNode, label?: string): Ty | undefined {
  return core.languageAt(at) === 'kotlin' ? kotlinThis(core, at, label) : typescriptThis(core, at);
}

function kotlinThis(core: Core, at: AnyNode, label: string | undefined): Ty | undefined {
  for (let node: AnyNode | undefined = at; node !== undefined; node = core.program.parentOf(node)) {
    if (node.kind === 'Fn') {
      const receiver = label === undefined || labelOf(core, node) === label ? core.receiverOf(node) : undefined;
      if (receiver !== undefined) return receiver;
    }
    if (node.kind === 'Class' && (label === undefined || node.name === label)) return core.selfOf(node);
  }
  return undefined;
}

/** What `this@…` calls a function or lambda: its name, its label, or the function that it is handed to. */
function labelOf(core: Core, fn: Fn): string | undefined {
  if (fn.name !== undefined) return fn.name;
  const lambda = core.program.parentOf(fn);
  if (lambda?.kind !== 'Lambda') return undefined;
  if (lambda.label !== undefined) return lambda.label;
  const call = core.program.parentOf(lambda);
  if (call?.kind !== 'Call') return undefined;
  return call.callee.kind === 'Name' || call.callee.kind === 'Member' ? call.callee.name : undefined;
}

/** Methods and accessors have the object they stand in; arrows, and values of an object literal, have what is around them. */
function typescriptThis(core: Core, at: AnyNode): Ty | undefined {
  let child: AnyNode = at;
  for (let node: AnyNode | undefined = core.program.parentOf(at); node !== undefined; child = node, node = core.program.parentOf(node)) {
    if (node.kind === 'Fn' && node.receiver !== undefined) return core.typeOfRef(node.receiver, node);
    if (node.kind === 'Class' && hasOwnThis(node, child)) {
      const self = core.selfOf(node);
      return child.kind === 'Fn' && child.modifiers.has('static') ? { ...self, meta: true } : self;
    }
  }
  return undefined;
}

function hasOwnThis(cls: Class, child: AnyNode): boolean {
  if (cls.form !== 'anonymous') return true;
  return child.kind === 'Fn' || (child.kind === 'Field' && child.getter !== undefined);
}

/** The receiver that a function or lambda body has besides its class: Kotlin's extensions and lambdas with receiver. */
export function receiverOf(core: Core, fn: Fn): Ty | undefined {
  if (fn.receiver !== undefined) return core.typeOfRef(fn.receiver, fn);
  const parent = core.program.parentOf(fn);
  if (parent?.kind === 'Field') return parent.receiver !== undefined && fn.name !== undefined ? core.typeOfRef(parent.receiver, parent) : undefined;
  return parent?.kind === 'Lambda' ? core.expectedType(parent)?.fn?.receiver : undefined;
}

/** What a declaration found through a type holds there, arguments put in for type parameters. */
export function typeOfReference(core: Core, { decl, found }: Reference): Ty | undefined {
  const type = core.typeOfDecl(decl);
  return type && found.bindings ? substitute(type, found.bindings) : type;
}

export function declOf(core: Core, expr: Name | Member | FnRef): Decl | undefined {
  if (expr.kind !== 'FnRef') return core.referenceOf(expr)?.decl;
  const found = fnRefFound(core, expr);
  return found?.decls.find((decl) => decl.is === 'fn') ?? found?.decls[0];
}

export function fnDecl(core: Core, fn: Fn): Decl {
  return memberDecl(core.program, fn);
}
