/**
 * What is subscribed, and on which link, as far as two of them can be told apart: a UUID, a declaration, or whatever a
 * parameter, a loop's element or the object around will be. Counting is `registrations.ts`.
 */
import type { Call, Class, Expr, Fn } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { returnsOf } from './origins.js';
import { argumentAt, roleOf } from './roles.js';
import { runOf } from './runs.js';

export interface Thing {
  readonly root: Root;
  /** What is read from the root: `.uuid`, `.gatt`. */
  readonly path: string;
  /** The list that is indexed by the root. */
  readonly of?: readonly Expr[];
}

type Root =
  | { readonly is: 'fixed'; readonly key: string }
  /** Depends on this parameter, local or loop element. */
  | { readonly is: 'decl'; readonly decl: Decl }
  /** The object of this class, or what an extension function of this receiver is called on. */
  | { readonly is: 'self'; readonly of: Class | Fn };

const numbers = new WeakMap<object, number>();
let next = 0;

function numberOf(object: object): number {
  let known = numbers.get(object);
  if (known === undefined) numbers.set(object, known = next++);
  return known;
}

export function keyOf({ root, path }: Thing): string {
  const base = root.is === 'fixed' ? root.key : root.is === 'decl' ? `#${numberOf(root.decl)}` : `@${numberOf(root.of)}`;
  return base + path;
}

export function fixed(key: string): Thing {
  return { root: { is: 'fixed', key }, path: '' };
}

/** What a call that subscribes, or unsubscribes, is about. */
export function subjectOf(a: Analysis, call: Call): Thing | undefined {
  const member = roleOf(a, call)?.member;
  const at = member?.params?.findIndex(p => p.is === 'characteristic') ?? -1;
  const expr = member && at >= 0 ? argumentAt(call, member, at) : a.resolver.calleeOf(call).receiver?.expr;
  return expr && thingOf(a, expr);
}

const DEPTH = 10;

/** What an expression stands for: a UUID that it is looked up by, or what that comes from. Undefined: nobody can say. */
export function thingOf(a: Analysis, expr: Expr, depth = 0): Thing | undefined {
  const uuid = a.resolver.constants.uuid(expr);
  if (uuid !== undefined) return fixed(uuid);
  if (depth > DEPTH) return undefined;
  switch (expr.kind) {
    case 'Name': return ofName(a, expr, depth);
    case 'Member': return ofMember(a, expr, depth);
    case 'Call': return ofCall(a, expr, depth);
    case 'Binary':
      if (expr.op === '??') return thingOf(a, expr.left, depth + 1);
      return expr.op === '+' ? madeFrom(a, expr) : undefined;
    case 'Unary': case 'Cast': case 'Await': return thingOf(a, expr.value, depth + 1);
    case 'Index': return ofIndex(a, expr);
    case 'Template': return madeFrom(a, expr);
    default: return undefined;
  }
}

function ofName(a: Analysis, expr: Expr & { kind: 'Name' }, depth: number): Thing | undefined {
  const decl = a.resolver.declOf(expr);
  if (!decl) return undefined;
  switch (decl.is) {
    case 'local': {
      const writes = decl.node.kind === 'Let' && (decl.binding?.path.length ?? 0) === 0 ? a.resolver.writesTo(decl) : [];
      const [write, ...others] = writes;
      return (write?.value && others.length === 0 ? thingOf(a, write.value, depth + 1) : undefined) ?? { root: { is: 'decl', decl }, path: partsOf(decl) };
    }
    case 'param': return { root: { is: 'decl', decl }, path: partsOf(decl) };
    case 'field': return ofField(a, decl, undefined, depth);
    case 'entry': case 'class': return fixed(`=${numberOf(decl)}`);
    default: return undefined;
  }
}

/** A destructured name is a part of what is destructured, and as such has a declaration of its own. */
function partsOf(decl: Decl): string {
  return (decl.is === 'local' || decl.is === 'param') && decl.binding ? decl.binding.path.map(step => `.${step}`).join('') : '';
}

/** A field that only ever holds one looked-up thing is that thing; otherwise the place itself stands for what it holds. */
function ofField(a: Analysis, decl: Decl & { is: 'field' }, object: Expr | undefined, depth: number): Thing | undefined {
  const values = (a.resolver.valuesOf(decl) ?? []).filter(value => !(value.kind === 'Literal' && value.value === null));
  const things = values.map(value => thingOf(a, value, depth + 1));
  const [first] = things;
  if (first?.root.is === 'fixed' && things.every(thing => thing?.root.is === 'fixed' && keyOf(thing) === keyOf(first))) return first;
  if (object) {
    const base = thingOf(a, object, depth + 1);
    return base && { root: base.root, path: `${base.path}.${decl.name}` };
  }
  const { owner } = decl;
  if (!owner || owner.form === 'object' || decl.node.static) return fixed(`=${numberOf(decl)}`);
  return { root: { is: 'self', of: owner }, path: `.${decl.name}` };
}

function ofMember(a: Analysis, expr: Expr & { kind: 'Member' }, depth: number): Thing | undefined {
  const decl = a.resolver.declOf(expr);
  if (decl?.is === 'field') return ofField(a, decl, expr.object.kind === 'This' ? undefined : expr.object, depth);
  if (decl?.is === 'entry' || decl?.is === 'class') return fixed(`=${numberOf(decl)}`);
  const base = thingOf(a, expr.object, depth + 1);
  // A characteristic's UUID is the characteristic, as far as counting goes.
  return base && { ...base, path: expr.name === 'uuid' && decl?.is === 'platform' ? base.path : `${base.path}.${expr.name}` };
}

function ofCall(a: Analysis, call: Call, depth: number): Thing | undefined {
  const callee = a.resolver.calleeOf(call);
  const [fn, ...others] = callee.fns;
  if (fn && others.length === 0 && !callee.constructs) {
    const [value, ...more] = returnsOf(a, fn).filter(v => !(v.kind === 'Literal' && v.value === null));
    const thing = value && more.length === 0 ? thingOf(a, value, depth + 1) : undefined;
    return thing && atCall(a, thing, call, fn);
  }
  const matched = call.args.flatMap(({ value }) => (value.kind === 'Lambda' ? lookedFor(a, value.fn) ?? [] : []))[0];
  if (matched) return thingOf(a, matched, depth + 1);
  for (const { value } of call.args) {
    if (value.kind === 'Lambda') continue;
    const found = thingOf(a, value, depth + 1);
    if (found) return found;
  }
  if (call.args.length > 0 && call.args.every(({ value }) => value.kind !== 'Lambda')) return madeFrom(a, call);
  return call.callee.kind === 'Member' ? thingOf(a, call.callee.object, depth + 1) : undefined;
}

/** `characteristics.find { it.uuid == WEIGHT }`: what the lambda compares with. */
function lookedFor(a: Analysis, fn: Fn): Expr | undefined {
  const [value] = returnsOf(a, fn);
  if (value?.kind !== 'Binary' || value.op !== '==') return undefined;
  const isElement = (expr: Expr): boolean => expr.kind === 'Member' && expr.name === 'uuid';
  return isElement(value.left) ? value.right : isElement(value.right) ? value.left : undefined;
}

/** A list of constants at a place that a loop counts through. */
function ofIndex(a: Analysis, expr: Expr & { kind: 'Index' }): Thing | undefined {
  const items = a.resolver.constants.items(expr.object);
  const at = a.resolver.constants.whole(expr.index);
  const item = items && at !== undefined ? items[at] : undefined;
  if (item) return thingOf(a, item, 1);
  const decl = expr.index.kind === 'Name' ? a.resolver.declOf(expr.index) : undefined;
  if (!decl) return undefined;
  return { root: { is: 'decl', decl }, path: `[${expr.object.span.start}]`, ...(items && { of: items }) };
}

/** Put together out of constants and one name: another one for each value of the name. */
function madeFrom(a: Analysis, expr: Expr): Thing | undefined {
  const names = new Set<Decl>();
  let plain = true;
  a.eachBelow(expr, node => {
    if (node.kind === 'Binary' && node.op !== '+') plain = false;
    if (node.kind !== 'Name') return undefined;
    const decl = a.resolver.declOf(node);
    if (decl?.is === 'local' || decl?.is === 'param') names.add(decl);
    return undefined;
  });
  const [only, ...others] = names;
  return plain && only && others.length === 0 ? { root: { is: 'decl', decl: only }, path: `~${expr.span.start}${partsOf(only)}` } : undefined;
}

// ---- Links --------------------------------------------------------------

/** The link that a subscription is made on; undefined when nobody can say, and it then counts as the one around. */
export function linkThing(a: Analysis, call: Call): Thing | undefined {
  const receiver = a.resolver.calleeOf(call).receiver;
  if (receiver?.expr) return a.fileOf(call)?.language === 'typescript' ? rootThing(a, receiver.expr, 0) : linkAt(a, receiver.expr, 0);
  for (let fn = a.program.enclosingFn(call); fn; fn = a.program.enclosingFn(fn)) {
    if (fn.receiver) return { root: { is: 'self', of: fn }, path: '' };
    const lambda = a.program.parentOf(fn);
    const taker = lambda && a.program.parentOf(lambda);
    const run = lambda?.kind === 'Lambda' && taker?.kind === 'Call' ? runOf(a, taker, lambda) : undefined;
    const self = run?.runner?.self === 'receiver' ? a.resolver.calleeOf(run.call).receiver?.expr : run?.runner?.self === 'first-argument' ? run.call.args[0]?.value : undefined;
    if (self && a.resolver.typeOf(self)?.name === receiver?.ty?.name) return linkAt(a, self, 0);
  }
  return undefined;
}

/** What a call is made on, as the link that its lambdas and objects get later: a queue belongs to one link. */
export function ownerThing(a: Analysis, call: Call): Thing | undefined {
  const receiver = a.resolver.calleeOf(call).receiver?.expr;
  if (receiver && receiver.kind !== 'This') return linkAt(a, receiver, 0);
  const cls = a.program.enclosingClass(call);
  return cls && { root: { is: 'self', of: cls }, path: '' };
}

function linkAt(a: Analysis, expr: Expr, depth: number): Thing | undefined {
  if (depth > DEPTH) return undefined;
  switch (expr.kind) {
    case 'Name': case 'Member': {
      const decl = a.resolver.declOf(expr);
      if (decl?.is === 'local' && decl.node.kind === 'Let' && decl.binding?.path.length === 0) {
        const [write, ...others] = a.resolver.writesTo(decl);
        return (write?.value && others.length === 0 ? linkAt(a, write.value, depth + 1) : undefined) ?? { root: { is: 'decl', decl }, path: '' };
      }
      if (decl?.is === 'param') return ofCallback(a, decl) ?? scopedOn(a, decl, depth) ?? { root: { is: 'decl', decl }, path: partsOf(decl) };
      if (decl?.is === 'local') return { root: { is: 'decl', decl }, path: '' };
      if (decl?.is === 'field' && decl.owner && decl.owner.form !== 'object' && !decl.node.static) {
        if (expr.kind === 'Name' || expr.object.kind === 'This') return { root: { is: 'self', of: decl.owner }, path: `.${decl.name}` };
      } else if (decl) return fixed(`=${numberOf(decl)}`);
      const base = expr.kind === 'Member' ? linkAt(a, expr.object, depth + 1) : undefined;
      return base && expr.kind === 'Member' ? { root: base.root, path: `${base.path}.${expr.name}` } : undefined;
    }
    case 'Unary': case 'Cast': case 'Await': return linkAt(a, expr.value, depth + 1);
    case 'Binary': return expr.op === '??' ? linkAt(a, expr.left, depth + 1) : undefined;
    case 'Call': return /^(?:checkNotNull|requireNotNull|requireNonNull)$/.test(a.calleeName(expr) ?? '') && expr.args[0] ? linkAt(a, expr.args[0].value, depth + 1) : undefined;
    default: return undefined;
  }
}

/** The link that a callback is given is the one in the only field for links that the class around has. */
function ofCallback(a: Analysis, decl: Decl & { is: 'param' }): Thing | undefined {
  if (!a.resolver.isPlatformCallback(decl.fn)) return undefined;
  for (let cls = a.program.enclosingClass(decl.fn); cls; cls = a.program.enclosingClass(cls)) {
    const fields = cls.fields.filter(field => a.resolver.typeOfField(field)?.name === 'BluetoothGatt');
    const [only] = fields;
    if (only && fields.length === 1) return cls.form === 'object' || only.static ? fixed(`=${numberOf(a.resolver.declFor(only)!)}`) : { root: { is: 'self', of: cls }, path: `.${only.name}` };
    if (fields.length > 1) return undefined;
  }
  return undefined;
}

/** `gatt?.let { it… }`: the parameter of a scope function's lambda. */
function scopedOn(a: Analysis, decl: Decl & { is: 'param' }, depth: number): Thing | undefined {
  const lambda = a.program.parentOf(decl.fn);
  const call = lambda?.kind === 'Lambda' ? a.program.parentOf(lambda) : undefined;
  const run = lambda?.kind === 'Lambda' && call?.kind === 'Call' ? runOf(a, call, lambda) : undefined;
  if (run?.runner?.passes?.[0] !== 'receiver' || call?.kind !== 'Call' || call.callee.kind !== 'Member') return undefined;
  return linkAt(a, call.callee.object, depth + 1);
}

/** In Web Bluetooth every characteristic leads to its device: what they are all read from stands for it. */
function rootThing(a: Analysis, expr: Expr, depth: number): Thing | undefined {
  if (depth > DEPTH) return undefined;
  switch (expr.kind) {
    case 'This': {
      const cls = a.resolver.thisAt(expr)?.class;
      return cls && { root: { is: 'self', of: cls }, path: '' };
    }
    case 'Name': {
      const decl = a.resolver.declOf(expr);
      if (decl?.is === 'local') {
        const source = decl.node.kind === 'Loop' ? decl.node.over?.source : undefined;
        const [write, ...others] = source ? [] : a.resolver.writesTo(decl);
        const value = source ?? (others.length === 0 ? write?.value : undefined);
        const put = value?.kind === 'ListExpr' ? value.items[0] ?? putInto(a, decl) : undefined;
        return (value && rootThing(a, put ?? value, depth + 1)) ?? { root: { is: 'decl', decl }, path: '' };
      }
      return decl?.is === 'param' ? elementOf(a, decl, depth) ?? { root: { is: 'decl', decl }, path: '' } : undefined;
    }
    case 'Member': case 'Index': return rootThing(a, expr.object, depth + 1);
    case 'Await': case 'Unary': case 'Cast': return rootThing(a, expr.value, depth + 1);
    case 'Call': return expr.callee.kind === 'Member' ? rootThing(a, expr.callee.object, depth + 1) : undefined;
    default: return undefined;
  }
}

/** What is put into a list: all of it belongs to one link, or nobody can say. */
function putInto(a: Analysis, decl: Decl): Expr | undefined {
  for (const read of a.resolver.readsOf(decl)) {
    const member = a.program.parentOf(read);
    const call = member?.kind === 'Member' && member.object === read && member.name === 'push' ? a.program.parentOf(member) : undefined;
    if (call?.kind === 'Call' && call.args[0]) return call.args[0].value;
  }
  return undefined;
}

function elementOf(a: Analysis, decl: Decl & { is: 'param' }, depth: number): Thing | undefined {
  const lambda = a.program.parentOf(decl.fn);
  const call = lambda?.kind === 'Lambda' ? a.program.parentOf(lambda) : undefined;
  return call?.kind === 'Call' && call.callee.kind === 'Member' && lambda?.kind === 'Lambda' && runOf(a, call, lambda)?.runner ? rootThing(a, call.callee.object, depth + 1) : undefined;
}

// ---- In the words of a caller -------------------------------------------

/** What a function says in terms of its parameters and its object, said in terms of a call of it. */
export function atCall(a: Analysis, thing: Thing, call: Call, fn: Fn, isLink = false): Thing | undefined {
  const { root, path } = thing;
  const said = (expr: Expr): Thing | undefined => (isLink ? (a.fileOf(call)?.language === 'typescript' ? rootThing(a, expr, 0) : linkAt(a, expr, 0)) : thingOf(a, expr));
  if (root.is === 'decl' && root.decl.is === 'param' && root.decl.fn === fn) {
    const arg = a.resolver.argumentFor(call, fn, root.decl.node) ?? root.decl.node.defaultValue;
    const base = arg && said(arg);
    return base && further(base, path, thing.of);
  }
  if (root.is !== 'self') return thing;
  const receiver = a.resolver.calleeOf(call).receiver;
  const concerns = root.of === fn || (root.of.kind === 'Class' && isMember(a, fn, root.of));
  if (!concerns || !receiver?.expr || receiver.expr.kind === 'This') return thing;
  const base = said(receiver.expr);
  return base && further(base, path);
}

function isMember(a: Analysis, fn: Fn, cls: Class): boolean {
  const owner = a.program.ownerOf(fn);
  return owner !== undefined && (owner === cls || a.resolver.superclassesOf(owner).includes(cls) || a.resolver.superclassesOf(cls).includes(owner));
}

/** What is read from a thing. */
export function further(base: Thing, path: string, of?: readonly Expr[]): Thing {
  return { root: base.root, path: base.path + path, ...(of && { of }) };
}
