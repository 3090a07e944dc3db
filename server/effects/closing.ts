/**
 * Where links are given back: which calls close what, directly or through a helper of the project, and whether anything
 * ever gets there.
 */
import type { AnyNode, Call, Expr, Fn, Param } from '../ir/ir.js';
import type { Guard, Step } from '../flow/graph.js';
import { unguarded } from '../flow/paths.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { callsDoing } from './operations.js';
import { roleOf } from './roles.js';
import { waysTo, type Way } from './ways.js';

/** What a closing call closes. */
export type Closed =
  | { readonly is: 'decl'; readonly decl: Decl }
  /** The link that the platform passes to a callback. */
  | { readonly is: 'callback-link'; readonly fn: Fn }
  | { readonly is: 'unknown' };

export interface Closer {
  readonly call: Call;
  /** The call of `close()` (Android) or `disconnect()` (web) at the bottom. */
  readonly release: Call;
  readonly closed: readonly Closed[];
}

/** Every place that gives a link back; a helper's call sites are the closers, not the helper's own line. */
export function closers(a: Analysis): readonly Closer[] {
  return a.once<string, readonly Closer[]>('closers', '', [], () => callsDoing(a, 'closes-link').map(call => {
    const target = closedBy(a, call);
    return { call, release: call, closed: target ? followed(a, target) : [{ is: 'unknown' }] };
  }));
}

/** Whether a call closes a link, itself or in what it calls. */
export function closes(a: Analysis, call: Call): boolean {
  return a.once<Call, boolean>('closes', call, false, () => {
    if (roleOf(a, call)?.does.has('closes-link')) return true;
    return a.resolver.calleeOf(call).fns.some(fn => fn.body !== undefined && closesInside(a, fn));
  });
}

function closesInside(a: Analysis, fn: Fn): boolean {
  return a.once<Fn, boolean>('closes-inside', fn, false, () => {
    let found = false;
    a.eachBelow(fn.body!, node => {
      if (node.kind === 'Call' && closes(a, node)) found = true;
      return found ? 'skip' : undefined;
    });
    return found;
  });
}

/** The expression that a closing call is made on; for Kotlin's implicit receivers, what they stand for. */
function closedBy(a: Analysis, call: Call): Expr | Param | undefined {
  const receiver = a.resolver.calleeOf(call).receiver;
  return receiver?.expr;
}

/** Where a link comes from: through locals, scope functions, parameters and their arguments, to a field or a callback. */
export function followed(a: Analysis, target: Expr | Param, depth = 0): readonly Closed[] {
  if (depth > 8) return [{ is: 'unknown' }];
  if (target.kind === 'Param') return ofParam(a, target, depth);
  switch (target.kind) {
    case 'Name': case 'Member': {
      const decl = a.resolver.declOf(target);
      if (!decl) return target.kind === 'Member' ? followed(a, target.object, depth + 1) : [{ is: 'unknown' }];
      // `device.gatt`: a property of the platform belongs to the object it is read from.
      if (decl.is === 'platform') return target.kind === 'Member' ? followed(a, target.object, depth + 1) : [{ is: 'unknown' }];
      if (decl.is === 'param') return ofParam(a, decl.node, depth);
      if (decl.is === 'local') return ofLocal(a, decl, depth);
      return [{ is: 'decl', decl }, ...behindGetter(a, decl, depth)];
    }
    case 'Binary': return [...followed(a, target.left, depth + 1), ...(target.op === '??' ? followed(a, target.right, depth + 1) : [])];
    case 'Unary': case 'Cast': case 'Await': return followed(a, target.value, depth + 1);
    case 'Assign': return followed(a, target.target, depth + 1);
    case 'Index': return followed(a, target.object, depth + 1);
    case 'Call': {
      const callee = a.resolver.calleeOf(target);
      const results = callee.fns.flatMap(fn => returnsOf(a, fn)).flatMap(value => followed(a, value, depth + 1));
      // `map.remove(address)`, `list.first()`, `state.value.gatt`: an element of what it is called on.
      return results.length > 0 ? results : target.callee.kind === 'Member' ? followed(a, target.callee.object, depth + 1) : [{ is: 'unknown' }];
    }
    default: return [{ is: 'unknown' }];
  }
}

function behindGetter(a: Analysis, decl: Decl, depth: number): readonly Closed[] {
  if (decl.is !== 'field' || !decl.node.getter) return [];
  return returnsOf(a, decl.node.getter).flatMap(value => followed(a, value, depth + 1));
}

function ofLocal(a: Analysis, decl: Decl & { is: 'local' }, depth: number): readonly Closed[] {
  const own: Closed = { is: 'decl', decl };
  const source = decl.node.kind === 'Loop' ? decl.node.over?.source : undefined;
  const values = source ? [source] : a.resolver.writesTo(decl).flatMap(write => (write.value ? [write.value] : []));
  return [own, ...values.flatMap(value => followed(a, value, depth + 1))];
}

function ofParam(a: Analysis, param: Param, depth: number): readonly Closed[] {
  const decl = a.resolver.declFor(param);
  const fn = decl?.is === 'param' ? decl.fn : undefined;
  if (!fn) return [{ is: 'unknown' }];
  const own: Closed[] = decl ? [{ is: 'decl', decl }] : [];
  if (a.resolver.isPlatformCallback(fn)) return [...own, { is: 'callback-link', fn }];
  const holder = a.program.parentOf(fn);
  if (holder?.kind === 'Lambda') {
    const call = a.program.parentOf(holder);
    const object = call?.kind === 'Call' && call.callee.kind === 'Member' ? call.callee.object : undefined;
    return [...own, ...(object ? followed(a, object, depth + 1) : [{ is: 'unknown' } as const])];
  }
  const callers = a.resolver.callersOf(fn);
  const args = callers.flatMap(call => {
    const arg = a.resolver.argumentFor(call, fn, param);
    return arg ? [arg] : [];
  });
  return [...own, ...args.flatMap(arg => followed(a, arg, depth + 1))];
}

export function returnsOf(a: Analysis, fn: Fn): readonly Expr[] {
  return a.once<Fn, readonly Expr[]>('returns-of', fn, [], () => {
    const found: Expr[] = [];
    if (fn.body) {
      a.eachBelow(fn.body, node => {
        if (node.kind === 'Return' && node.value) found.push(node.value);
        return node.kind === 'Fn' ? 'skip' : undefined;
      });
    }
    return found;
  });
}

// ---- Whether anything gets there ----------------------------------------

/** Ways on which a closer is reached; those that only a function without callers leads to are told apart. */
export function liveWays(a: Analysis, node: AnyNode): readonly Way[] {
  return a.once<AnyNode, readonly Way[]>('live-ways', node, [], () => waysTo(a, node).filter(way => {
    if (way.start.is !== 'outside') return true;
    return !(way.start.known && isDeadEnd(a, way.start.fn));
  }));
}

/**
 * A function that nothing in the program calls, in a class that the program does use: a `close()` that was written and
 * forgotten. A library's public functions are never that: nothing in a library's own sources uses its classes, and what a
 * TypeScript module exports may be for others.
 */
function isDeadEnd(a: Analysis, fn: Fn | undefined): boolean {
  if (!fn?.name || a.fileOf(fn)?.language === 'typescript' || fn.modifiers.has('override') || fn.modifiers.has('abstract')) return false;
  const owner = a.program.ownerOf(fn);
  const siblings = owner?.functions.filter(other => other !== fn && other.name !== undefined) ?? [];
  return siblings.some(other => a.resolver.callersOf(other).some(call => a.program.enclosingClass(call) !== owner));
}

/** A flag that has to hold before a step is reached: a link that is pending or lost fails it. The condition, or undefined. */
export function flagBefore(a: Analysis, graph: { readonly entry: Step } & Parameters<typeof unguarded>[0], step: Step): Expr | undefined {
  let flag: Expr | undefined;
  const open = unguarded(graph, step, {
    edge: edge => {
      const test = flagTest(a, edge.when);
      if (test) flag = test;
      return test !== undefined;
    },
  });
  return open ? undefined : flag;
}

function flagTest(a: Analysis, guard: Guard | undefined): Expr | undefined {
  if (guard?.is !== 'condition' || !guard.holds) return undefined;
  const { test } = guard;
  if (test.kind !== 'Name' && test.kind !== 'Member') return undefined;
  const decl = a.resolver.declOf(test);
  return decl?.is === 'field' && decl.node.mutable && a.resolver.typeOf(test)?.name === 'boolean' ? test : undefined;
}
