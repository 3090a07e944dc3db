/**
 * Types as values: making them, printing them, joining them, putting arguments in for parameters.
 *
 * Nothing is looked up here; what a name stands for is decided in `type-refs.ts`, what a type has in `members.ts`.
 */
import type { PlatformType } from '../catalogue/types.js';
import type { Class } from '../ir/ir.js';
import type { FnTy, Ty } from './api.js';

const NO_ARGS: readonly Ty[] = [];
const plain = new Map<string, Ty>();

/** A type of that name; `number`, `list<string>`, `Promise<…>`. */
export function ty(name: string, args: readonly Ty[] = NO_ARGS): Ty {
  if (args.length > 0) return { name, args, nullable: false };
  let known = plain.get(name);
  if (known === undefined) {
    known = { name, args: NO_ARGS, nullable: false };
    plain.set(name, known);
  }
  return known;
}

export const ANY = ty('any');
export const NUMBER = ty('number');
export const STRING = ty('string');
export const BOOLEAN = ty('boolean');
export const VOID = ty('void');
export const BYTES = ty('bytes');
/** What a null literal is before anything is known of its place. */
export const NULL: Ty = { name: 'null', args: NO_ARGS, nullable: true };
/** Type of an expression that never yields: `return`, `throw`. */
export const NEVER = ty('never');

export function platformTy(platform: PlatformType, args: readonly Ty[] = NO_ARGS): Ty {
  return { name: platform.name, args, nullable: false, platform };
}

export function classTy(cls: Class, args: readonly Ty[] = NO_ARGS, platform?: PlatformType): Ty {
  return { name: cls.name ?? '', args, nullable: false, class: cls, ...(platform && { platform }) };
}

export function metaOf(type: Ty): Ty {
  return { ...type, nullable: false, meta: true };
}

export function instanceOf(type: Ty): Ty {
  const { meta: _, ...rest } = type;
  return rest;
}

export function listOf(element: Ty = ANY): Ty {
  return ty('list', [element]);
}

export function tupleOf(items: readonly Ty[]): Ty {
  return { name: 'list', args: [joinAll(items) ?? ANY], nullable: false, tuple: items };
}

export function promiseOf(value: Ty = ANY): Ty {
  return ty('Promise', [value]);
}

export function funTy(fn: FnTy): Ty {
  return { name: 'fun', args: [...fn.params.map((param) => param ?? ANY), fn.result ?? ANY], nullable: false, fn };
}

export function variable(name: string): Ty {
  return { name, args: NO_ARGS, nullable: false, variable: true };
}

export function asNullable(type: Ty): Ty {
  return type.nullable ? type : { ...type, nullable: true };
}

export function nonNull(type: Ty): Ty {
  if (!type.nullable || type.name === 'null') return type;
  return { ...type, nullable: false };
}

/** Whether the type tells nothing: absent, `any`, a bare null. */
export function isVague(type: Ty | undefined): boolean {
  return type === undefined || type.name === 'any' || type.name === 'null';
}

/** Names under which the libraries of both languages keep a value that is settled later. */
const PROMISES = new Set(['Promise', 'PromiseLike', 'Deferred', 'CompletableDeferred', 'Awaited']);

/** What `await` yields. In TypeScript a value that is no promise is itself. */
export function awaited(type: Ty): Ty {
  if (type.union !== undefined) return joinAll(type.union.map(awaited)) ?? type;
  if (!PROMISES.has(type.name) || type.class !== undefined) return type;
  const value = awaited(type.args[0] ?? ANY);
  return type.nullable ? asNullable(value) : value;
}

// ---- Printing -----------------------------------------------------------

/** `list<BluetoothGattService>?`, `fun(number) -> void`, `class BluetoothGatt` for the class itself. */
export function show(type: Ty | undefined): string {
  if (type === undefined) return '?';
  const mark = type.nullable && type.name !== 'null' ? '?' : '';
  if (type.meta === true) return `class ${baseName(type)}`;
  if (type.union !== undefined) return `(${type.union.map(show).join(' | ')})${mark}`;
  if (type.parts !== undefined) return `(${type.parts.map(show).join(' & ')})${mark}`;
  if (type.fn !== undefined) return showFn(type.fn, mark);
  const args = type.tuple ?? type.args;
  if (type.tuple !== undefined) return `[${args.map(show).join(', ')}]${mark}`;
  return baseName(type) + (args.length === 0 ? '' : `<${args.map(show).join(', ')}>`) + mark;
}

function baseName(type: Ty): string {
  if (type.name !== '') return type.name;
  return type.platform === undefined ? 'object' : `object : ${type.platform.name}`;
}

function showFn(fn: FnTy, mark: string): string {
  const text = `${fn.receiver === undefined ? '' : `${show(fn.receiver)}.`}(${fn.params.map(show).join(', ')}) -> ${show(fn.result)}`;
  return mark === '' ? `fun${text}` : `(fun${text})${mark}`;
}

// ---- Joining ------------------------------------------------------------

function sameType(a: Ty, b: Ty): boolean {
  if (a === b) return true;
  if (a.name !== b.name || a.class !== b.class || a.meta !== b.meta || a.args.length !== b.args.length) return false;
  if (a.union?.length !== b.union?.length || a.parts?.length !== b.parts?.length) return false;
  return a.args.every((arg, i) => sameType(arg, b.args[i]!)) && a.nullable === b.nullable && sameFn(a.fn, b.fn)
    && (a.union ?? []).every((member, i) => sameType(member, b.union![i]!));
}

function sameFn(a: FnTy | undefined, b: FnTy | undefined): boolean {
  if (a === undefined || b === undefined) return a === b;
  return a.params.length === b.params.length && show(a.result) === show(b.result);
}

/** No more members than this in a union; beyond, the type is `any`. */
const UNION_CAP = 12;

/**
 * The type of a value that comes from one of several places. A place of which nothing is known adds nothing: what is
 * known of the others is still true of the value whenever it comes from them.
 */
export function join(a: Ty | undefined, b: Ty | undefined): Ty | undefined {
  if (a === undefined || a.name === 'never') return b ?? a;
  if (b === undefined || b.name === 'never') return a;
  if (a.name === 'null') return asNullable(b);
  if (b.name === 'null') return asNullable(a);
  // What yields nothing is null where a value is wanted.
  if (a.name === 'void' && b.name !== 'void') return asNullable(b);
  if (b.name === 'void' && a.name !== 'void') return asNullable(a);
  if (a.name === 'any') return a.nullable && !b.nullable ? asNullable(b) : b;
  if (b.name === 'any') return b.nullable && !a.nullable ? asNullable(a) : a;
  if (sameType(nonNull(a), nonNull(b))) return a.nullable ? a : b;
  const merged = mergeArgs(a, b);
  if (merged !== undefined) return merged;
  return unionOf([...(a.union ?? [a]), ...(b.union ?? [b])], a.nullable || b.nullable);
}

export function joinAll(types: readonly (Ty | undefined)[]): Ty | undefined {
  let result: Ty | undefined;
  for (const type of types) result = join(result, type);
  return result?.name === 'never' && types.includes(undefined) ? undefined : result;
}

/** `list<A>` and `list<any>` are `list<A>`: an argument that is not known adds nothing. */
function mergeArgs(a: Ty, b: Ty): Ty | undefined {
  if (a.name !== b.name || a.class !== b.class || a.meta !== b.meta || a.union !== undefined || a.fn !== undefined || b.fn !== undefined) return undefined;
  if (a.tuple !== undefined || b.tuple !== undefined) return { name: a.name, args: [join(a.args[0], b.args[0]) ?? ANY], nullable: a.nullable || b.nullable };
  const count = Math.max(a.args.length, b.args.length);
  const args: Ty[] = [];
  for (let i = 0; i < count; i++) {
    const [left = ANY, right = ANY] = [a.args[i], b.args[i]];
    if (!isVague(left) && !isVague(right) && nonNull(left).name !== nonNull(right).name) return undefined;
    args.push(join(left, right) ?? ANY);
  }
  return { ...a, args, nullable: a.nullable || b.nullable };
}

export function unionOf(members: readonly Ty[], nullable: boolean): Ty {
  const distinct: Ty[] = [];
  for (const member of members) {
    const bare = nonNull(member);
    if (!distinct.some((other) => sameType(other, bare))) distinct.push(bare);
  }
  if (distinct.length === 1) return nullable ? asNullable(distinct[0]!) : distinct[0]!;
  if (distinct.length > UNION_CAP) return nullable ? asNullable(ANY) : ANY;
  return { name: '|', args: NO_ARGS, nullable, union: distinct };
}

export function partsOf(type: Ty): readonly Ty[] {
  return type.parts ?? [type];
}

export function intersectionOf(parts: readonly Ty[]): Ty {
  const flat = parts.flatMap(partsOf).map(nonNull).filter((part) => part.name !== 'any' || part.class !== undefined);
  if (flat.length < 2) return flat[0] ?? ANY;
  const lead = flat.find((part) => part.platform !== undefined) ?? flat[0]!;
  return { ...lead, parts: flat };
}

// ---- Type parameters ----------------------------------------------------

export type Bindings = Map<string, Ty>;

export function bind(names: readonly string[] | undefined, args: readonly Ty[]): Bindings {
  const bindings: Bindings = new Map();
  names?.forEach((name, i) => {
    const arg = args[i];
    if (arg !== undefined) bindings.set(name, arg);
  });
  return bindings;
}

/** Puts arguments in for type parameters; a parameter without one stays. */
export function substitute(type: Ty, bindings: Bindings): Ty {
  if (bindings.size === 0) return type;
  if (type.variable === true) {
    const value = bindings.get(type.name);
    return value === undefined ? type : type.nullable ? asNullable(value) : value;
  }
  if (type.union !== undefined) return unionOf(type.union.map((member) => substitute(member, bindings)), type.nullable);
  if (type.args.length === 0 && type.fn === undefined && type.parts === undefined) return type;
  return {
    ...type,
    args: type.args.map((arg) => substitute(arg, bindings)),
    ...(type.tuple && { tuple: type.tuple.map((item) => substitute(item, bindings)) }),
    ...(type.parts && { parts: type.parts.map((part) => substitute(part, bindings)) }),
    ...(type.fn && { fn: substituteFn(type.fn, bindings) }),
  };
}

function substituteFn(fn: FnTy, bindings: Bindings): FnTy {
  const of = (part: Ty | undefined): Ty | undefined => part && substitute(part, bindings);
  const result = of(fn.result);
  const receiver = of(fn.receiver);
  return { params: fn.params.map(of), ...(result && { result }), ...(receiver && { receiver }) };
}

/** Type parameters that nothing was put in for become `any`. */
export function close(type: Ty): Ty {
  if (type.variable === true) return type.nullable ? asNullable(ANY) : ANY;
  if (type.union !== undefined) return joinAll(type.union.map(close)) ?? ANY;
  if (!hasVariable(type)) return type;
  return {
    ...type,
    args: type.args.map(close),
    ...(type.tuple && { tuple: type.tuple.map(close) }),
    ...(type.parts && { parts: type.parts.map(close) }),
    ...(type.fn && { fn: closeFn(type.fn) }),
  };
}

function closeFn(fn: FnTy): FnTy {
  return {
    params: fn.params.map((param) => param && close(param)),
    ...(fn.result && { result: close(fn.result) }),
    ...(fn.receiver && { receiver: close(fn.receiver) }),
  };
}

export function hasVariable(type: Ty): boolean {
  return type.variable === true || type.args.some(hasVariable) || (type.parts?.some(hasVariable) ?? false) || (type.union?.some(hasVariable) ?? false)
    || (type.fn?.receiver !== undefined && hasVariable(type.fn.receiver));
}

/** Learns from an argument what a parameter's type parameters stand for. The first thing learnt of each is joined with later ones. */
export function unify(param: Ty, arg: Ty, bindings: Bindings): void {
  if (param.variable === true) {
    const value = param.nullable ? nonNull(arg) : arg;
    if (value.name !== 'null') bindings.set(param.name, join(bindings.get(param.name), value) ?? value);
    return;
  }
  if (param.union !== undefined) {
    for (const member of param.union) if (member.variable === true || member.name === arg.name) unify(member, arg, bindings);
    return;
  }
  if (param.fn !== undefined && arg.fn !== undefined) {
    if (param.fn.result && arg.fn.result) unify(param.fn.result, arg.fn.result, bindings);
    param.fn.params.forEach((each, i) => {
      const other = arg.fn?.params[i];
      if (each && other) unify(each, other, bindings);
    });
    return;
  }
  if (param.name !== arg.name) return;
  param.args.forEach((each, i) => {
    const other = arg.args[i];
    if (other !== undefined) unify(each, other, bindings);
  });
}
