/**
 * Which functions a call may run: dispatch over subclasses, and the functions that a value is.
 *
 * The program is taken as closed: a call on an interface or an open class runs one of the implementations that the program
 * holds, and is known completely once there is one. Applications are checked whole; a library's exported interface may
 * have others, but what they do is not this program's affair.
 */
import { callbackOf } from '../catalogue/index.js';
import type { PlatformMember } from '../catalogue/types.js';
import type { Call, Class, Expr, Fn, Lambda } from '../ir/ir.js';
import type { Callee, Decl } from './api.js';
import type { Core, Target } from './core.js';
import { armValues } from './infer.js';
import { classLine, ownMembers } from './members.js';
import { fnRefFound } from './names.js';
import { returnsOf } from './declared.js';
import { runsOf } from './runs.js';
import { classTy } from './types.js';

export function calleeOf(core: Core, call: Call): Callee {
  const target = core.targetOf(call);
  const fns = target.fns.flatMap((fn) => runs(core, call, target, fn));
  const held = heldFunctions(core, target);
  const owner = ownerName(target);
  const constructs = target.constructs?.class ?? target.constructs?.platform;
  const value = valueNode(target.value, call.callee);
  const all = [...new Set([...fns, ...(held ?? [])])];
  return {
    fns: all, members: target.members, ...(owner !== undefined && { owner }), ...(constructs && { constructs }), ...(value && { value }),
    ...(target.receiver && { receiver: target.receiver }), ...(target.name !== undefined && { name: target.name }),
    complete: isComplete(core, call, target, all, held),
  };
}

/** What runs when a declaration is called. */
function runs(core: Core, call: Call, target: Target, fn: Fn): readonly Fn[] {
  if (isDispatched(core, call, fn)) return dispatched(core, target, fn);
  return fn.body === undefined && fn.name !== 'constructor' ? bodyOf(core, fn) : [fn];
}

function ownerName(target: Target): string | undefined {
  const decl = target.found?.decls.find((each) => each.is === 'platform' && each.member !== undefined && target.members.includes(each.member));
  return decl?.is === 'platform' ? decl.type.name : target.constructs?.platform?.name;
}

/** What holds the function called: a parameter, a property, a variable's value; else the callee itself. */
function valueNode(value: Decl | Expr | undefined, callee: Expr): Callee['value'] {
  if (value === undefined || 'kind' in value) return value;
  if (value.is === 'param' || value.is === 'field') return value.node;
  return value.is === 'local' && value.node.kind === 'Let' ? value.node.value ?? callee : callee;
}

function isComplete(core: Core, call: Call, target: Target, fns: readonly Fn[], held: readonly Fn[] | undefined): boolean {
  if (target.value !== undefined) return held !== undefined;
  if (target.constructs !== undefined) return target.constructs.class !== undefined || target.constructs.platform !== undefined;
  if (target.fns.length > 0) return fns.length > 0;
  if (target.members.length > 0) return true;
  return target.found?.decls.some((decl) => decl.is === 'class') === true || runsOf(core, call, target).length > 0 && target.found === undefined;
}

function heldFunctions(core: Core, target: Target): readonly Fn[] | undefined {
  if (target.value === undefined) return undefined;
  return 'kind' in target.value ? core.functionValue(target.value) : core.functionsHeld(target.value);
}

// ---- Dispatch -------------------------------------------------------------------

/** A call on `super`, of a private, static or top-level function, or of a constructor runs that very one. */
function isDispatched(core: Core, call: Call, fn: Fn): boolean {
  const cls = core.program.parentOf(fn);
  if (cls?.kind !== 'Class' || fn.name === 'constructor' || fn.modifiers.has('private') || fn.modifiers.has('static')) return false;
  return !(call.callee.kind === 'Member' && call.callee.object.kind === 'This' && call.callee.object.of === 'super');
}

/** The function with a body that an overload's announcement stands for. */
function bodyOf(core: Core, fn: Fn): readonly Fn[] {
  const parent = core.program.parentOf(fn);
  const siblings = parent?.kind === 'Class' ? parent.functions : parent?.kind === 'File' ? parent.declarations : [];
  return siblings.filter((other): other is Fn => other.kind === 'Fn' && other.name === fn.name && other.body !== undefined);
}

/** On a receiver of a known class, only that class and those below it count. */
function dispatched(core: Core, target: Target, fn: Fn): readonly Fn[] {
  const all = core.implementationsOf(fn);
  const cls = target.receiver?.ty?.class;
  if (all.length < 2 || cls === undefined || cls === core.program.ownerOf(fn)) return all;
  const below = new Set([cls, ...core.subclassesOf(cls)]);
  return all.filter((each) => each === fn || ownerIn(core, each, below));
}

function ownerIn(core: Core, fn: Fn, classes: ReadonlySet<Class>): boolean {
  const cls = core.program.enclosingClass(fn);
  return cls !== undefined && classes.has(cls);
}

/** The function itself, where it has a body, and its overrides in subclasses. */
export function implementationsOf(core: Core, fn: Fn): readonly Fn[] {
  const cls = core.program.ownerOf(fn);
  const own = fn.body === undefined ? (cls?.form === 'class' ? bodyOf(core, fn) : []) : [fn];
  if (cls === undefined || fn.name === undefined || !mayBeOverridden(core, fn, cls)) return own;
  const name = fn.name;
  const below = core.subclassesOf(cls).flatMap((sub) => (ownMembers(sub).get(name) ?? []).flatMap((member) => {
    if (member.kind === 'Fn' && member.body !== undefined && sameShape(core, member, fn)) return [member];
    return member.kind === 'Field' && member.initial?.kind === 'Lambda' ? [member.initial.fn] : [];
  }));
  return [...new Set([...own, ...below])];
}

/** Kotlin closes what is not opened. */
function mayBeOverridden(core: Core, fn: Fn, cls: Class): boolean {
  if (core.languageAt(fn) === 'typescript') return true;
  return cls.form === 'interface' || fn.modifiers.has('open') || fn.modifiers.has('abstract') || fn.modifiers.has('override') || cls.form === 'enum';
}

/** Overrides have the same number of parameters; where overloads have too, the written types tell them apart. */
function sameShape(core: Core, a: Fn, b: Fn): boolean {
  if (a.params.length !== b.params.length) return core.languageAt(a) === 'typescript' && a.params.length < b.params.length;
  return a.params.every((param, i) => {
    const other = b.params[i]!;
    if (param.type === undefined || other.type === undefined || core.languageAt(a) === 'typescript') return true;
    return sameName(param.type.name, other.type.name) || isVariable(core, other.type.name, b);
  });
}

function sameName(a: string, b: string): boolean {
  return a.slice(a.lastIndexOf('.') + 1) === b.slice(b.lastIndexOf('.') + 1);
}

function isVariable(core: Core, name: string, fn: Fn): boolean {
  return fn.typeParams.includes(name) || (core.program.ownerOf(fn)?.typeParams?.includes(name) ?? false);
}

/** All project classes below a class, anonymous ones included. */
export function subclassesOf(core: Core, cls: Class): readonly Class[] {
  const below = new Set<Class>([cls]);
  // A set is walked in the order of insertion, what is added on the way included.
  for (const at of below) for (const heir of heirsOf(core, at)) below.add(heir);
  below.delete(cls);
  return [...below];
}

function heirsOf(core: Core, cls: Class): readonly Class[] {
  const entries = cls.entries.flatMap((entry) => entry.body ?? []);
  if (cls.name === undefined) return entries;
  const names = [cls.name, ...core.program.otherNames(cls.name)];
  const heirs = names.flatMap((name) => core.program.heirsNaming(name)).filter((heir) => core.superRefsOf(heir).some((type) => type.class === cls));
  return [...heirs, ...entries];
}

/** The functions of project classes that this one overrides, nearest first. */
export function overriddenBy(core: Core, fn: Fn): readonly Fn[] {
  const cls = core.program.ownerOf(fn);
  if (cls === undefined || fn.name === undefined) return [];
  const name = fn.name;
  const above = core.superclassesOf(cls).flatMap((each) => ownMembers(each).get(name) ?? []);
  return above.flatMap((member) => (member.kind === 'Fn' && sameShape(core, fn, member) ? [member] : []));
}

/** A catalogue callback that a function overrides: its class must extend the type, an equal name is not enough. */
export function platformCallback(core: Core, fn: Fn): { readonly type: string; readonly member: PlatformMember } | undefined {
  const parent = core.program.parentOf(fn);
  if (parent?.kind === 'Lambda') return samCallback(core, parent);
  if (parent?.kind !== 'Class' || fn.name === undefined) return undefined;
  for (const level of classLine(core, classTy(parent))) {
    if (level.class !== undefined || level.platform === undefined) continue;
    const member = callbackOf(level.platform.name, fn.name, fn.params.length);
    if (member !== undefined) return { type: level.platform.name, member };
  }
  return undefined;
}

/** `LeScanCallback { device, rssi, record -> }`: the lambda is the callback. */
function samCallback(core: Core, lambda: Lambda): { readonly type: string; readonly member: PlatformMember } | undefined {
  const call = core.program.parentOf(lambda);
  const built = call?.kind === 'Call' && call.args.some((argument) => argument.value === lambda) ? core.targetOf(call).constructs : undefined;
  const wanted = built ?? (call?.kind === 'Call' ? undefined : core.expectedType(lambda));
  const callbacks = wanted?.platform?.members.filter((member) => member.kind === 'callback') ?? [];
  return wanted?.platform?.kind === 'interface' && callbacks.length === 1 ? { type: wanted.platform.name, member: callbacks[0]! } : undefined;
}

// ---- Function values ------------------------------------------------------------------

/** The functions that an expression is, or undefined where it may be others. */
export function functionValue(core: Core, expr: Expr): readonly Fn[] | undefined {
  switch (expr.kind) {
    case 'Lambda': return [expr.fn];
    case 'FnRef': return fnsOf(fnRefFound(core, expr)?.decls ?? []);
    case 'Name':
    case 'Member': {
      const decl = core.referenceOf(expr)?.decl;
      return decl === undefined ? undefined : decl.is === 'fn' ? core.implementationsOf(decl.node) : core.functionsHeld(decl);
    }
    case 'Call': return calledFunction(core, expr);
    case 'Cast': return core.functionValue(expr.value);
    case 'Unary': return expr.op === '!!' ? core.functionValue(expr.value) : undefined;
    case 'Choose': return union(core, armValues(expr.branch));
    case 'Binary':
      if (expr.op === '&&') return core.functionValue(expr.right);
      return expr.op === '??' || expr.op === '||' ? union(core, [expr.left, expr.right]) : undefined;
    case 'ObjectExpr': return objectFunction(expr.body);
    case 'Literal': return expr.value === null ? [] : undefined;
    case 'Assign': return expr.op === undefined ? core.functionValue(expr.value) : undefined;
    default: return undefined;
  }
}

function fnsOf(decls: readonly Decl[]): readonly Fn[] | undefined {
  const fns = decls.flatMap((decl) => (decl.is === 'fn' ? [decl.node] : []));
  return fns.length === 0 ? undefined : fns;
}

/** `f.bind(this)`, `Runnable { }`, `useCallback(f)`, a function that returns one. */
function calledFunction(core: Core, call: Call): readonly Fn[] | undefined {
  const target = core.targetOf(call);
  if (call.callee.kind === 'Member' && call.callee.name === 'bind' && target.fns.length === 0) return core.functionValue(call.callee.object);
  const last = call.args.at(-1)?.value;
  if (target.constructs !== undefined && last !== undefined && core.functionTypeOf(target.constructs) !== undefined) return core.functionValue(last);
  if (target.fns.length > 0) {
    const fns = target.fns.map((fn) => union(core, returnsOf(core, fn).flatMap((each) => each.value ?? [])));
    return fns.every((each) => each !== undefined && each.length > 0) ? fns.flatMap((each) => each ?? []) : undefined;
  }
  const keeps = runsOf(core, call, target).find((run) => run.runner.yields === 'first-argument');
  return keeps?.lambdas[0] && core.functionValue(keeps.lambdas[0].value);
}

/** An object with one method and nothing else stands for it: `object : Runnable { override fun run() }`. */
function objectFunction(cls: Class): readonly Fn[] | undefined {
  return cls.functions.length === 1 && cls.spreads.length === 0 ? cls.functions : undefined;
}

function union(core: Core, values: readonly Expr[]): readonly Fn[] | undefined {
  const fns: Fn[] = [];
  for (const value of values) {
    const known = core.functionValue(value);
    if (known === undefined) return undefined;
    fns.push(...known);
  }
  return [...new Set(fns)];
}

/** The functions that a variable, property or parameter is known to hold. */
export function functionsHeld(core: Core, decl: Decl): readonly Fn[] | undefined {
  const values = core.valuesOf(decl);
  const fns = values && union(core, values);
  // One that only ever holds null is filled by somebody who cannot be seen.
  return fns?.length === 0 ? undefined : fns;
}
