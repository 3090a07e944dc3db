/**
 * Which link an operation runs on, as far as it can be told apart from another: the way by which code gets to the object
 * that the operation is called on, in the words of one function, and how that way reads from a caller.
 *
 * A device or a client stands for one link. A characteristic is one of many parts of some link: two of them, found by
 * different ways, may well be parts of the same one.
 */
import type { AnyNode, Call, Class, Expr, Fn, Param } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { argumentAt, roleOf } from './roles.js';
import { runOfLambda } from './runs.js';

export interface Link {
  /** Where the way begins: a declaration, `this` of a class, the receiver of an extension, or a call that makes the object. */
  readonly base: Decl | Class | Fn | Expr | undefined;
  readonly path: readonly Hop[];
  /** Whether something on the way stands for one link. */
  readonly anchored: boolean;
  /** Whether the way leads through another object of the project that holds a link. */
  readonly wrapped: boolean;
}

/** A property, or what a collection holds under a key. */
export type Hop = { readonly name: string } | { readonly key: Expr | undefined };

/** `one`: the same link; `two`: surely not; `perhaps`: nothing says either. */
export type Relation = 'one' | 'perhaps' | 'two';

/** Types of which one object stands for one link. */
const LINK_TYPES = /^(?:BluetoothGatt|BluetoothDevice|BluetoothRemoteGATTServer)$/;
const UNKNOWN: Link = { base: undefined, path: [], anchored: false, wrapped: false };
const DEPTH = 12;

export function linkOf(a: Analysis, op: Call): Link {
  return a.once<Call, Link>('link-of', op, UNKNOWN, () => {
    const role = roleOf(a, op);
    if (role?.owner === 'BluetoothGattServer' && role.member) {
      // A server has a link with each device that it is told to serve.
      const at = role.member.params?.findIndex(p => p.is === 'device') ?? -1;
      const device = at >= 0 ? argumentAt(op, role.member, at) : undefined;
      if (device) return wayTo(a, device);
    }
    return linkOfReceiver(a, op);
  });
}

function linkOfReceiver(a: Analysis, call: Call): Link {
  const receiver = a.resolver.calleeOf(call).receiver;
  if (receiver?.expr) return wayTo(a, receiver.expr);
  return receiver?.implicit ? implicit(a, call, receiver.ty?.name) : UNKNOWN;
}

/** The way to what a call opens: to the field that its result is put in, or to the call itself. */
export function clientOf(a: Analysis, open: Call): Link {
  for (let node: AnyNode | undefined = open; node; node = a.program.parentOf(node)) {
    if (node.kind === 'Assign' && (node.target.kind === 'Name' || node.target.kind === 'Member')) return wayTo(a, node.target);
    if (node !== open && node.kind !== 'Unary' && node.kind !== 'Cast' && node.kind !== 'Binary') break;
  }
  return wayTo(a, open);
}

/** A key for the field that a link is kept in, when the way to it is no other than that field. */
export function keptIn(a: Analysis, { base, path, anchored }: Link): string | undefined {
  const [hop, ...more] = path;
  if (!anchored || !base || 'is' in base || base.kind !== 'Class' || !hop || !('name' in hop) || more.length > 0) return undefined;
  return `${a.fileOf(base)?.path ?? ''} ${base.span.start} ${hop.name}`;
}

// ---- The way to an object -----------------------------------------------

/** How code gets to the object that an expression denotes. */
export function wayTo(a: Analysis, expr: Expr, depth = 0): Link {
  if (depth > DEPTH) return UNKNOWN;
  const link = unmarked(a, expr, depth);
  const type = a.resolver.typeOf(expr);
  const anchors = type !== undefined && (LINK_TYPES.test(type.name) || LINK_TYPES.test(type.platform?.name ?? ''));
  const wraps = type?.class !== undefined && expr.kind !== 'This' && holdsLink(a, type.class);
  return anchors || wraps ? { ...link, anchored: true, wrapped: link.wrapped || wraps } : link;
}

/** Objects of such a class stand for a link each; of one that holds a mere characteristic that cannot be said. */
function holdsLink(a: Analysis, cls: Class): boolean {
  return a.once<Class, boolean>('holds-link', cls, false, () => cls.fields.some(field => LINK_TYPES.test(a.resolver.typeOfField(field)?.name ?? '')));
}

function unmarked(a: Analysis, expr: Expr, depth: number): Link {
  switch (expr.kind) {
    case 'Name': {
      const decl = a.resolver.declOf(expr);
      return decl ? ofDecl(a, decl, depth) : from(expr);
    }
    case 'Member': {
      const decl = a.resolver.declOf(expr);
      const isOwn = decl?.is === 'field' ? decl.owner !== undefined && !decl.node.static && decl.owner.form !== 'object' : decl === undefined || decl.is === 'platform';
      return decl && !isOwn ? ofDecl(a, decl, depth) : then(wayTo(a, expr.object, depth + 1), { name: expr.name });
    }
    case 'This': return from(a.resolver.thisAt(expr, expr.label)?.class ?? a.program.enclosingClass(expr));
    case 'Index': return then(wayTo(a, expr.object, depth + 1), { key: expr.index });
    case 'Call': return ofCall(a, expr, depth);
    case 'Unary': case 'Cast': case 'Await': case 'Assign': return wayTo(a, expr.value, depth + 1);
    case 'Binary': return expr.op === '??' || expr.op === '||' ? wayTo(a, expr.left, depth + 1) : from(expr);
    default: return from(expr);
  }
}

const from = (base: Link['base']): Link => ({ base, path: [], anchored: false, wrapped: false });
const then = (link: Link, hop: Hop): Link => ({ ...link, path: [...link.path, hop] });

function ofDecl(a: Analysis, decl: Decl, depth: number): Link {
  if (decl.is === 'field' && decl.owner && !decl.node.static && decl.owner.form !== 'object') return then(from(decl.owner), { name: decl.name });
  if (decl.is === 'local' && decl.node.kind === 'Let' && decl.node.value && a.resolver.writesTo(decl).length === 1) {
    return (decl.binding?.path ?? []).reduce<Link>((link, part) => then(link, { name: String(part) }), wayTo(a, decl.node.value, depth + 1));
  }
  if (decl.is === 'local' && decl.node.kind === 'Branch' && decl.node.subject) return wayTo(a, decl.node.subject, depth + 1);
  const passed = decl.is === 'param' && decl.binding === undefined ? passedBy(a, decl.fn, decl.node) : undefined;
  return passed ? wayTo(a, passed, depth + 1) : from(decl);
}

/** What a scope function hands to its lambda: the object that it is called on, or its first argument. */
function passedBy(a: Analysis, fn: Fn, param: Param): Expr | undefined {
  const run = runOfLambda(a, fn);
  const passes = run?.runner?.passes?.[fn.params.indexOf(param)];
  if (passes === 'receiver') return run?.call.callee.kind === 'Member' ? run.call.callee.object : undefined;
  return passes === 'first-argument' ? run?.call.args[0]?.value : undefined;
}

/** Names under which collections give what they hold under a key. common practice, no source */
const LOOKUPS = /^(?:get|getValue|getOrNull|getOrPut|getOrElse|remove|elementAt|elementAtOrNull|at)$/;
const COLLECTIONS = /^(?:list|set|map|\w*(?:Queue|Deque|Map|Channel))$/;

function ofCall(a: Analysis, call: Call, depth: number): Link {
  const callee = a.resolver.calleeOf(call);
  const name = a.calleeName(call);
  if (callee.constructs) return from(call);
  const [fn, ...others] = callee.fns;
  if (fn && others.length === 0) {
    const [value, ...more] = returnedBy(a, fn);
    return value && more.length === 0 ? fromCaller(a, wayTo(a, value, depth + 1), call, fn) : from(fn);
  }
  const opens = callee.members.some(member => member.does?.includes('opens-link'));
  if (opens && callee.owner !== 'BluetoothRemoteGATTServer') return from(call);
  const object = call.callee.kind === 'Member' ? call.callee.object : undefined;
  const on = object ? wayTo(a, object, depth + 1) : callee.receiver?.implicit ? implicit(a, call, callee.receiver.ty?.name) : undefined;
  if (!on || name === undefined) return from(call);
  if (opens) return on;
  const collection = object && a.resolver.typeOf(object)?.name;
  // What a collection gives is another thing each time, unless it is asked for by a key.
  if (collection !== undefined && COLLECTIONS.test(collection)) return then(on, { key: LOOKUPS.test(name) && call.args[0] ? call.args[0].value : call });
  return then(on, { name: `${name}()` });
}

function returnedBy(a: Analysis, fn: Fn): readonly Expr[] {
  return a.once<Fn, readonly Expr[]>('values-returned', fn, [], () => {
    const found: Expr[] = [];
    if (fn.body) {
      a.eachBelow(fn.body, node => {
        if (node.kind === 'Return' && node.value && !(node.value.kind === 'Literal' && node.value.value === null)) found.push(node.value);
        return node.kind === 'Fn' && !a.isInlined(node) ? 'skip' : undefined;
      });
    }
    return found;
  });
}

/** What a call without a written receiver is made on: that of a scope function around it, of the extension, or `this`. */
function implicit(a: Analysis, node: AnyNode, type: string | undefined): Link {
  for (let fn = a.program.enclosingFn(node); fn; fn = a.program.enclosingFn(fn)) {
    const run = runOfLambda(a, fn);
    const self = run?.runner?.self === 'receiver' ? (run.call.callee.kind === 'Member' ? run.call.callee.object : undefined)
      : run?.runner?.self === 'first-argument' ? run.call.args[0]?.value : undefined;
    if (self && a.resolver.typeOf(self)?.name === type) return wayTo(a, self);
    if (fn.receiver) return { ...from(fn), anchored: type !== undefined && LINK_TYPES.test(type) };
  }
  return from(a.program.enclosingClass(node));
}

// ---- Seen from a caller -------------------------------------------------

/** A way in a function's own words, in those of a call of it. */
export function fromCaller(a: Analysis, link: Link, call: Call, fn: Fn): Link {
  const path = link.path.map(hop => ('key' in hop && hop.key ? { key: argumentBehind(a, hop.key, call, fn) } : hop));
  const before = wayOfBase(a, link, call, fn);
  if (!before) return { ...link, path };
  return { base: before.base, path: [...before.path, ...path], anchored: before.anchored || link.anchored, wrapped: before.wrapped || link.wrapped };
}

function wayOfBase(a: Analysis, { base }: Link, call: Call, fn: Fn): Link | undefined {
  if (!base) return undefined;
  if ('is' in base) {
    if (base.is !== 'param' || base.fn !== fn) return undefined;
    const passed = a.resolver.argumentFor(call, fn, base.node);
    return passed ? wayTo(a, passed) : UNKNOWN;
  }
  if (base.kind === 'Fn') return base === fn ? linkOfReceiver(a, call) : undefined;
  if (base.kind !== 'Class' || !isMemberOf(a, fn, base)) return undefined;
  const receiver = a.resolver.calleeOf(call).receiver;
  return receiver?.expr ? wayTo(a, receiver.expr) : undefined;
}

function isMemberOf(a: Analysis, fn: Fn, cls: Class): boolean {
  const owner = a.program.ownerOf(fn);
  return owner !== undefined && (owner === cls || a.resolver.superclassesOf(owner).includes(cls));
}

function argumentBehind(a: Analysis, key: Expr, call: Call, fn: Fn): Expr {
  const decl = key.kind === 'Name' ? a.resolver.declOf(key) : undefined;
  return decl?.is === 'param' && decl.fn === fn ? a.resolver.argumentFor(call, fn, decl.node) ?? key : key;
}

// ---- Telling apart ------------------------------------------------------

export function relationOf(a: Analysis, x: Link, y: Link): Relation {
  if (!x.anchored || !y.anchored) return x.wrapped || y.wrapped ? 'perhaps' : 'one';
  if (!x.base || !y.base) return 'perhaps';
  if (x.base === y.base) {
    const same = samePath(a, x.path, y.path);
    return same === 'two' ? apart(x, y) : same;
  }
  if (x.wrapped || y.wrapped) return 'perhaps';
  // The client that a callback is given, and the one in a field, are the same in almost any program.
  return isKept(x) !== isKept(y) ? 'one' : 'perhaps';
}

/** A place that outlives the function: a field. */
function isKept({ base, path }: Link): boolean {
  return base !== undefined && ('is' in base ? base.is === 'field' : base.kind === 'Class') && !path.some(hop => 'key' in hop);
}

/** Two fields of one object that hold links are two links; below one of them it is one. */
function apart(x: Link, y: Link): Relation {
  const [p, q] = [x.path[0], y.path[0]];
  if (p && q && 'name' in p && 'name' in q && p.name !== q.name) return isKept(x) && isKept(y) && !x.wrapped && !y.wrapped ? 'two' : 'perhaps';
  return 'one';
}

function samePath(a: Analysis, x: readonly Hop[], y: readonly Hop[]): Relation {
  if (x.length !== y.length) return 'two';
  let relation: Relation = 'one';
  for (const [i, p] of x.entries()) {
    const q = y[i]!;
    if ('name' in p && 'name' in q) { if (p.name !== q.name) return 'two'; continue; }
    if ('name' in p || 'name' in q) return 'two';
    if (!sameKey(a, p.key, q.key)) relation = 'perhaps';
  }
  return relation;
}

function sameKey(a: Analysis, p: Expr | undefined, q: Expr | undefined): boolean {
  if (p === undefined || q === undefined) return p === q;
  if (p === q || a.resolver.sameObject(p, q) === true) return true;
  if ((p.kind === 'Name' || p.kind === 'Member') && (q.kind === 'Name' || q.kind === 'Member')) return a.resolver.declOf(p) !== undefined && a.resolver.declOf(p) === a.resolver.declOf(q);
  const text = a.resolver.constants.text(p) ?? a.resolver.constants.whole(p);
  return text !== undefined && text === (a.resolver.constants.text(q) ?? a.resolver.constants.whole(q));
}

/** Whether each round of a loop, or each call of a lambda, has a link of its own. */
export function isAnotherEachRound(a: Analysis, link: Link, loop: AnyNode): boolean {
  return link.anchored && (isWithin(a, link.base, loop) || link.path.some(hop => 'key' in hop && hop.key !== undefined && variesIn(a, hop.key, loop)));
}

function isWithin(a: Analysis, base: Link['base'], loop: AnyNode): boolean {
  if (!base) return false;
  const node: AnyNode | undefined = 'is' in base ? (base.is === 'platform' ? undefined : base.node) : base;
  if (!node || node.kind === 'Class' || node.kind === 'Fn') return false;
  return node === loop || (a.fileOf(node) === a.fileOf(loop) && loop.span.start <= node.span.start && node.span.end <= loop.span.end);
}

function variesIn(a: Analysis, key: Expr, loop: AnyNode): boolean {
  if (key.kind === 'Member') return variesIn(a, key.object, loop);
  if (key.kind === 'Call') return isWithin(a, key, loop);
  if (key.kind !== 'Name') return false;
  const decl = a.resolver.declOf(key);
  return decl !== undefined && isWithin(a, decl, loop);
}
