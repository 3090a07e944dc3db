/**
 * A function as a value: where it stands, who takes it, and where it is called through what holds it. Who calls it by name
 * is the resolver's to say.
 */
import type { AnyNode, Call, Expr, Fn, Param } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';

/** A call that is given a function. */
export interface Taker {
  readonly call: Call;
  /** The argument that is the function, or holds it. */
  readonly argument: Expr;
  /** The name under which it is given: a named argument, a property of an options object, a markup attribute. */
  readonly name?: string;
}

const DEPTH = 6;

/** The expressions that are the function: its lambda, the object whose one method it is, references to it. */
export function valuesOf(a: Analysis, fn: Fn): readonly Expr[] {
  const holder = a.program.parentOf(fn);
  if (holder?.kind === 'Lambda') return [holder];
  const object = holder?.kind === 'Class' ? a.program.parentOf(holder) : undefined;
  // Who calls a method by its name, through an interface of the project, is known better than who was given the object.
  const own = object?.kind === 'ObjectExpr' && a.resolver.callersOf(fn).length === 0 ? [object] : [];
  const references = fn.name === undefined ? [] : a.resolver.referencesTo(fn).flatMap((use): readonly Expr[] => (use.kind === 'Call' ? [] : [use]));
  return [...own, ...references];
}

/** Every call that takes one of the values of a function, through locals, fields, `bind`, and objects that it is put in. */
export function takersOf(a: Analysis, fn: Fn): readonly Taker[] {
  return a.once<Fn, readonly Taker[]>('takers', fn, [], () => valuesOf(a, fn).flatMap(value => climb(a, value, undefined, 0)));
}

function climb(a: Analysis, value: Expr, name: string | undefined, depth: number): readonly Taker[] {
  const parent = a.program.parentOf(value);
  if (!parent || depth > DEPTH) return [];
  const up = (next: Expr, by = name): readonly Taker[] => climb(a, next, by, depth + 1);
  switch (parent.kind) {
    case 'Call': {
      if (parent.callee === value) return [];
      const argument = parent.args.find(arg => arg.value === value);
      const taker: Taker = { call: parent, argument: value, ...named(argument?.name ?? name) };
      // `useCallback(f)`, `Runnable { }`: what the call yields is the function again.
      return passesOn(a, parent, value) ? up(parent) : [taker];
    }
    case 'Member': {
      const call = parent.name === 'bind' ? a.program.parentOf(parent) : undefined;
      return call?.kind === 'Call' && call.callee === parent ? up(call) : [];
    }
    case 'Cast': case 'Unary': case 'Binary': case 'Choose': return up(parent);
    case 'Yield': {
      const choose = enclosing(a, parent, 'Choose');
      return choose ? up(choose as Expr) : [];
    }
    case 'ListExpr': return up(parent);
    case 'Let': return parent.bindings.length === 1 ? reads(a, a.resolver.declFor(parent, parent.bindings[0]), name, depth) : [];
    case 'Assign': return parent.value === value && (parent.target.kind === 'Name' || parent.target.kind === 'Member') ? reads(a, a.resolver.declOf(parent.target), name, depth) : [];
    case 'Field': {
      const cls = a.program.ownerOf(parent);
      const object = cls && a.program.parentOf(cls);
      if (object?.kind === 'ObjectExpr') return up(object, parent.name);
      return reads(a, a.resolver.declFor(parent), name, depth);
    }
    default: return [];
  }
}

const named = (name: string | undefined): { name?: string } => (name === undefined ? {} : { name });

function passesOn(a: Analysis, call: Call, value: Expr): boolean {
  const runner = a.runOf(call, value)?.runner;
  // A row for a name in capitals that is called on nothing is a type with one method: `Observer { }`.
  if (runner?.yields === 'first-argument' || (runner?.on === 'nothing' && runner.runs === 'later-many' && /^[A-Z]\w*$/.test(runner.name) && call.args.length === 1)) return true;
  const { constructs } = a.resolver.calleeOf(call);
  return constructs !== undefined && 'kind' in constructs && constructs.kind === 'interface' && call.args.length === 1;
}

/** Where what a declaration holds is taken further; where it is called is `invocationsOf`. */
function reads(a: Analysis, decl: Decl | undefined, name: string | undefined, depth: number): readonly Taker[] {
  return (decl ? a.resolver.readsOf(decl) : []).flatMap(read => climb(a, read, name, depth + 1));
}

function enclosing(a: Analysis, node: AnyNode, kind: AnyNode['kind']): AnyNode | undefined {
  for (let up = a.program.parentOf(node); up && up.kind !== 'Fn'; up = a.program.parentOf(up)) if (up.kind === kind) return up;
  return undefined;
}

/** The calls of the function that a parameter is given, through the fields and parameters that it is put in. */
export function invocationsOf(a: Analysis, param: Param): readonly Call[] {
  return a.once<Param, readonly Call[]>('invocations', param, [], () => {
    const decl = a.resolver.declFor(param);
    const found = decl ? calledThrough(a, decl, 0) : [];
    const owner = decl?.is === 'param' && param.property ? a.program.ownerOf(decl.fn) : undefined;
    const field = owner?.fields.find(each => each.fromParam && each.name === param.name);
    const kept = field && a.resolver.declFor(field);
    return [...new Set([...found, ...(kept ? calledThrough(a, kept, 0) : [])])];
  });
}

function calledThrough(a: Analysis, decl: Decl, depth: number): readonly Call[] {
  if (depth > DEPTH) return [];
  return a.resolver.readsOf(decl).flatMap((read): readonly Call[] => {
    const parent = a.program.parentOf(read);
    if (parent?.kind === 'Call' && parent.callee === read) return [parent];
    const member = parent?.kind === 'Member' && parent.object === read && (parent.name === 'invoke' || parent.name === 'call') ? a.program.parentOf(parent) : undefined;
    if (member?.kind === 'Call' && member.callee === parent) return [member];
    if (parent?.kind === 'Assign' && parent.value === read && (parent.target.kind === 'Name' || parent.target.kind === 'Member')) {
      const target = a.resolver.declOf(parent.target);
      return target && target !== decl ? calledThrough(a, target, depth + 1) : [];
    }
    if (parent?.kind !== 'Call') return [];
    return a.resolver.calleeOf(parent).fns.flatMap(fn => fn.params.filter(p => a.resolver.argumentFor(parent, fn, p) === read).flatMap(p => invocationsOf(a, p)));
  });
}
