/**
 * Who reads and writes a declaration, and everything that it may hold.
 *
 * By name first, then by resolution: a use counts only if its name means this very declaration.
 */
import type { AnyNode, Argument, Assign, Expr, File, Fn, FnRef, Let, Member, Name, Param } from '../ir/ir.js';
import { walk } from '../ir/walk.js';
import type { Decl } from './api.js';
import { argumentFor } from './arguments.js';
import type { Core } from './core.js';
import { fileIndex, lastName } from './file-index.js';

/** Names and member accesses that mean the declaration. */
export function usesOf(core: Core, decl: Decl): readonly (Name | Member | FnRef)[] {
  return candidates(core, decl).filter((use) => use.kind !== 'FnRef' ? core.referenceOf(use)?.decl === decl : core.declOf(use) === decl);
}

/** Only where the declaration can be seen: its file, unless it is a member or is exported. */
function candidates(core: Core, decl: Decl): readonly (Name | Member | FnRef)[] {
  if (decl.is === 'platform' || decl.is === 'import') return [];
  if (decl.is === 'local' || decl.is === 'param') {
    const isShared = decl.is === 'local' && decl.node.kind === 'Let' && decl.node.exported === true;
    return isShared ? core.program.usesNamed(decl.name) : inFile(core, decl.file, decl.name);
  }
  return isPrivate(decl) ? inFile(core, decl.file, decl.name) : core.program.usesNamed(decl.name);
}

function inFile(core: Core, file: File, name: string): readonly (Name | Member | FnRef)[] {
  core.program.open(file);
  return fileIndex(file).mentions.uses.get(name) ?? [];
}

function isPrivate(decl: Decl): boolean {
  return (decl.is === 'field' || decl.is === 'fn' || decl.is === 'class') && decl.node.modifiers.has('private');
}

export function readsOf(core: Core, decl: Decl): readonly Expr[] {
  return usesOf(core, decl).filter((use) => !isPureTarget(core, use));
}

/** Assigned, not read: the target of `=` without an operator. */
function isPureTarget(core: Core, use: Expr): boolean {
  const parent = core.program.parentOf(use);
  return parent?.kind === 'Assign' && parent.target === use && parent.op === undefined;
}

export function writesTo(core: Core, decl: Decl): readonly (Assign | Let)[] {
  const writes: (Assign | Let)[] = [];
  if (decl.is === 'local' && decl.node.kind === 'Let' && decl.node.value !== undefined) writes.push(decl.node);
  for (const use of candidates(core, decl)) {
    const parent = core.program.parentOf(use);
    if (parent?.kind !== 'Assign' || parent.target !== use || use.kind === 'FnRef') continue;
    if (core.referenceOf(use)?.decl === decl) writes.push(parent);
  }
  return writes;
}

// ---- Assigned paths -----------------------------------------------------------

const assigned = new WeakMap<AnyNode, ReadonlySet<string>>();

/** Whether something inside a node assigns `a.b.c`, or `a`, or `a.b`; functions inside are looked into. */
export function assignsPath(node: AnyNode, path: string, textOf: (expr: Expr) => string | undefined): boolean {
  let paths = assigned.get(node);
  if (paths === undefined) {
    const found = new Set<string>();
    walk(node, (each) => {
      if (each.kind !== 'Assign') return;
      const text = textOf(each.target);
      if (text !== undefined) found.add(bare(text));
    });
    paths = found;
    assigned.set(node, paths);
  }
  if (paths.size === 0) return false;
  const wanted = bare(path);
  for (let end = wanted.length; end > 0; end = wanted.lastIndexOf('.', end - 1)) if (paths.has(wanted.slice(0, end))) return true;
  return false;
}

function bare(path: string): string {
  return path.startsWith('this.') ? path.slice('this.'.length) : path;
}

// ---- Values -----------------------------------------------------------------------

/**
 * Everything that a declaration may hold, or undefined where something unseen may be put there: the parameter of a
 * function without a caller in the program, or one that is handed to somebody else to be called.
 */
export function valuesOf(core: Core, decl: Decl): readonly Expr[] | undefined {
  switch (decl.is) {
    case 'local': return localValues(core, decl);
    case 'field': return fieldValues(core, decl);
    case 'param': return decl.binding === undefined ? core.argumentsFor(decl.node) : undefined;
    default: return undefined;
  }
}

function localValues(core: Core, decl: Decl & { readonly is: 'local' }): readonly Expr[] | undefined {
  if (decl.node.kind === 'Branch') return decl.node.subject === undefined ? undefined : [decl.node.subject];
  if (decl.node.kind !== 'Let' || decl.binding === undefined || decl.binding.path.length > 0) return undefined;
  return plainValues(core.writesTo(decl));
}

function plainValues(writes: readonly (Assign | Let)[]): readonly Expr[] | undefined {
  const values: Expr[] = [];
  for (const write of writes) {
    if (write.kind === 'Assign' && write.op !== undefined) return undefined;
    if (write.value !== undefined) values.push(write.value);
  }
  return values;
}

function fieldValues(core: Core, decl: Decl & { readonly is: 'field' }): readonly Expr[] | undefined {
  const { node } = decl;
  if (node.delegate !== undefined || node.getter !== undefined) return undefined;
  const written = plainValues(core.writesTo(decl));
  if (written === undefined || mayBeWrittenUnseen(core, decl)) return undefined;
  const initial = node.initial === undefined ? [] : [node.initial];
  if (node.fromParam !== true) return [...initial, ...written];
  const param = decl.owner?.constructors.flatMap((fn) => fn.params).find((each) => each.property === true && each.name === node.name);
  const passed = param && core.argumentsFor(param);
  return passed && [...passed, ...written, ...copied(core, decl)];
}

/** An assignment to a member of that name, on an object that is not known. */
function mayBeWrittenUnseen(core: Core, decl: Decl & { readonly is: 'field' }): boolean {
  return decl.node.mutable && candidates(core, decl).some((use) => use.kind === 'Member' && isPureTarget(core, use) && core.referenceOf(use) === undefined);
}

/** `state.copy(gatt = x)` of a data class. */
function copied(core: Core, decl: Decl & { readonly is: 'field' }): readonly Expr[] {
  if (decl.owner?.modifiers.has('data') !== true) return [];
  return core.program.callsNamed('copy').flatMap((call) => {
    const argument = call.args.find((each) => each.name === decl.name);
    return argument !== undefined && call.callee.kind === 'Member' && core.typeOf(call.callee.object)?.class === decl.owner ? [argument.value] : [];
  });
}

/** The arguments that all calls pass for a parameter, and its default where one leaves it out. */
export function argumentsFor(core: Core, param: Param): readonly Expr[] | undefined {
  const fn = core.program.parentOf(param);
  if (fn?.kind !== 'Fn' || param.rest === true) return undefined;
  const passing = [...core.callersOf(fn), ...constructing(core, fn)];
  if (passing.length === 0 || core.escapes(fn) || core.isPlatformCallback(fn) !== undefined) return undefined;
  const values: Expr[] = [];
  for (const one of passing) {
    const value = argumentFor(one, fn, param) ?? param.defaultValue;
    if (value === undefined && (one.args.some((argument) => argument.spread) || param.optional !== true)) return undefined;
    if (value !== undefined) values.push(value);
  }
  return values;
}

/** What builds objects without a call: a class that names its super constructor, an enum's entries. */
function constructing(core: Core, fn: Fn): readonly { readonly args: readonly Argument[] }[] {
  const cls = core.program.parentOf(fn);
  if (fn.name !== 'constructor' || cls?.kind !== 'Class') return [];
  const heirs = cls.name === undefined ? [] : core.program.heirsNaming(cls.name).filter((heir) => core.superRefsOf(heir).some((type) => type.class === cls));
  const supertypes = heirs.flatMap((heir) => heir.supertypes);
  const named = supertypes.flatMap(({ type, args }) => (args !== undefined && lastName(type.name) === cls.name ? [{ args }] : []));
  return [...named, ...cls.entries];
}
