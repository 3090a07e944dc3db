/**
 * What a call yields, and what it wants of each argument.
 */
import type { PlatformMember } from '../catalogue/types.js';
import type { Argument, Call, Expr, Fn } from '../ir/ir.js';
import type { Ty } from './api.js';
import { paramOf } from './arguments.js';
import type { Core, Target } from './core.js';
import { elementOf } from './elements.js';
import { classLine, givenMember } from './members.js';
import { lambdaShape, runsOf, yielded } from './runs.js';
import { typeOfText } from './type-text.js';
import {
  ANY, asNullable, awaited, bind, close, funTy, hasVariable, isVague, joinAll, listOf, NEVER, nonNull, NUMBER, promiseOf, STRING, substitute,
  tupleOf, ty, unify, type Bindings,
} from './types.js';

export function typeOfCall(core: Core, call: Call): Ty | undefined {
  const target = core.targetOf(call);
  const type = yieldedBy(core, call, target);
  return type && isCutShort(core, call) ? asNullable(type) : type;
}

/** `a?.f()` is null when `a` is. */
function isCutShort(core: Core, call: Call): boolean {
  const { callee } = call;
  if (call.safe === 'chain') return core.typeOf(callee)?.nullable ?? true;
  return callee.kind === 'Member' && core.mayBeCutShort(callee);
}

function yieldedBy(core: Core, call: Call, target: Target): Ty | undefined {
  if (target.constructs !== undefined) return constructed(core, call, target, target.constructs);
  if (target.fns.length > 0) return joinAll(target.fns.map((fn) => resultFor(core, call, target, fn)));
  const known = combined(core, call, target) ?? given(core, call, target);
  if (known !== undefined) return known;
  const runs = runsOf(core, call, target);
  const run = runs.length === 0 ? undefined : yielded(core, call, target, runs);
  if (run !== undefined && !isVague(run)) return run;
  if (target.members.length > 0) return joinAll(target.members.map((member) => memberResult(core, call, target, member))) ?? run;
  return target.valueType?.fn?.result ?? run;
}

// ---- Functions of the project -------------------------------------------------

function resultFor(core: Core, call: Call, target: Target, fn: Fn): Ty | undefined {
  const result = core.resultOf(fn);
  if (result === undefined) return undefined;
  const found = target.found?.bindings ? substitute(result, target.found.bindings) : result;
  if (!hasVariable(found) && found.fn === undefined) return found;
  return close(substitute(found, bindingsFor(core, call, target, fn)));
}

/** What the function's type parameters stand for in this call. */
function bindingsFor(core: Core, call: Call, target: Target, fn: Fn, except?: Argument): Bindings {
  const bindings: Bindings = new Map(target.found?.bindings ?? []);
  const written = bind(fn.typeParams, call.typeArgs.map((arg) => core.typeOfRef(arg, call) ?? ANY));
  for (const [name, type] of written) bindings.set(name, type);
  if (fn.typeParams.length === 0 || call.typeArgs.length > 0) return bindings;
  const receiver = fn.receiver && core.typeOfRef(fn.receiver, fn);
  if (receiver !== undefined && target.receiver?.ty !== undefined) unify(receiver, nonNull(target.receiver.ty), bindings);
  for (const argument of call.args) {
    if (argument === except) continue;
    const param = paramOf(call, fn.params, argument);
    const wanted = param && core.typeOfParam(param);
    if (wanted !== undefined && hasParameter(wanted)) learn(core, wanted, argument.value, bindings, except !== undefined);
  }
  return bindings;
}

function hasParameter(type: Ty): boolean {
  return hasVariable(type) || type.fn !== undefined;
}

/** A lambda teaches what it yields, but not while its own parameters are being asked for. */
function learn(core: Core, wanted: Ty, argument: Expr, bindings: Bindings, shapesOnly: boolean): void {
  if (argument.kind === 'Lambda') {
    const result = shapesOnly || wanted.fn?.result === undefined || !hasVariable(wanted.fn.result) ? undefined : core.resultOf(argument.fn);
    if (result !== undefined) unify(wanted.fn!.result!, result, bindings);
    return;
  }
  const type = core.typeOf(argument);
  if (type !== undefined) unify(wanted, asInstanceOf(core, type, wanted), bindings);
}

/** The supertype of a value that has the head of the type wanted: `Mtu` as the `Op<Int>` that it is. */
function asInstanceOf(core: Core, type: Ty, wanted: Ty): Ty {
  if (wanted.class === undefined && wanted.platform === undefined) return type;
  return classLine(core, type).find((level) => level.class === wanted.class && level.name === wanted.name) ?? type;
}

// ---- Constructions ---------------------------------------------------------------

function constructed(core: Core, call: Call, target: Target, type: Ty): Ty {
  const names = type.class?.typeParams ?? type.platform?.typeParams;
  if (names === undefined || names.length === 0) return type;
  if (call.typeArgs.length > 0) return { ...type, args: call.typeArgs.map((arg) => core.typeOfRef(arg, call) ?? ANY) };
  const bindings: Bindings = new Map();
  const ctor = target.fns[0];
  const member = target.members[0];
  if (ctor !== undefined) learnFrom(core, call, (argument) => core.typeOfParam(paramOf(call, ctor.params, argument)!), ctor.params.length > 0, bindings);
  else if (member !== undefined) learnFrom(core, call, (argument) => memberParamType(core, call, member, argument, type), true, bindings);
  const wanted = core.expectedType(call);
  if (wanted !== undefined && wanted.name === type.name) {
    for (const [name, arg] of bind(names, wanted.args)) if (!bindings.has(name)) bindings.set(name, arg);
  }
  const pairs = type.name === 'map' ? pairArgs(core, call.args[0]?.value) : undefined;
  if (pairs !== undefined) return { ...type, args: pairs };
  const runs = runsOf(core, call, target);
  const held = type.name === 'Promise' && runs.length > 0 ? yielded(core, call, target, runs) : undefined;
  return held ?? { ...type, args: names.map((name) => bindings.get(name) ?? ANY) };
}

/** Key and value of what a map is built from: a list of pairs. */
function pairArgs(core: Core, from: Expr | undefined): readonly Ty[] | undefined {
  const source = from && core.typeOf(from);
  if (source === undefined) return undefined;
  const entry = elementOf(core, source, 'typescript');
  return entry?.tuple?.length === 2 ? entry.tuple : undefined;
}

function learnFrom(core: Core, call: Call, paramType: (argument: Argument) => Ty | undefined, hasParams: boolean, bindings: Bindings): void {
  if (!hasParams) return;
  for (const argument of call.args) {
    const wanted = argument.value.kind === 'Lambda' ? undefined : paramType(argument);
    if (wanted !== undefined && hasVariable(wanted)) learn(core, wanted, argument.value, bindings, false);
  }
}

// ---- Members of the catalogue ------------------------------------------------------

function memberVariables(member: PlatformMember, owner: Ty | undefined): readonly string[] {
  return [...(member.typeParams ?? []), ...(owner?.platform?.typeParams ?? [])];
}

function memberResult(core: Core, call: Call, target: Target, member: PlatformMember): Ty | undefined {
  const language = core.languageAt(call);
  const owner = ownerOf(target, member);
  const result = typeOfText(language, member.result ?? 'void', memberVariables(member, owner));
  if (!hasVariable(result)) return result;
  return close(substitute(result, memberBindings(core, call, target, member, owner)));
}

function ownerOf(target: Target, member: PlatformMember): Ty | undefined {
  const decl = target.found?.decls.find((each) => each.is === 'platform' && each.member === member);
  return decl?.is === 'platform' ? { name: decl.type.name, args: [], nullable: false, platform: decl.type } : undefined;
}

function memberBindings(core: Core, call: Call, target: Target, member: PlatformMember, owner: Ty | undefined, except?: Argument): Bindings {
  const bindings: Bindings = new Map(target.found?.bindings ?? []);
  const names = member.typeParams ?? [];
  if (call.typeArgs.length > 0) {
    names.forEach((name, i) => call.typeArgs[i] && bindings.set(name, core.typeOfRef(call.typeArgs[i]!, call) ?? ANY));
    return bindings;
  }
  if (names.length === 0) return bindings;
  for (const argument of call.args) {
    const wanted = argument === except ? undefined : memberParamType(core, call, member, argument, owner);
    if (wanted === undefined || !hasParameter(wanted)) continue;
    if (argument.spread === true) {
      const element = core.typeOf(argument.value);
      const each = element && elementOf(core, element, core.languageAt(call));
      if (each !== undefined) unify(wanted, each, bindings);
    } else {
      learn(core, wanted, argument.value, bindings, except !== undefined);
    }
  }
  const wanted = names.some((name) => !bindings.has(name)) ? core.expectedType(call) : undefined;
  const result = wanted && typeOfText(core.languageAt(call), member.result ?? 'void', memberVariables(member, owner));
  if (wanted !== undefined && result !== undefined) {
    const fromPlace: Bindings = new Map();
    unify(result, wanted, fromPlace);
    for (const [name, type] of fromPlace) if (!bindings.has(name)) bindings.set(name, type);
  }
  return bindings;
}

function memberParamType(core: Core, call: Call, member: PlatformMember, argument: Argument, owner: Ty | undefined): Ty | undefined {
  const params = member.params ?? [];
  const at = call.args.indexOf(argument);
  const param = argument.name !== undefined ? params.find((each) => each.name === argument.name)
    : argument.trailing === true ? params.at(-1) : params[at] ?? params.find((each) => each.rest);
  return param && typeOfText(core.languageAt(call), param.type, memberVariables(member, owner));
}

// ---- What text cannot say ---------------------------------------------------------

/** Calls whose result depends on each argument apart: `Promise.all([a, b])`, `a to b`, `useState(x)`. */
function combined(core: Core, call: Call, target: Target): Ty | undefined {
  const { callee } = call;
  const first = call.args[0]?.value;
  if (callee.kind === 'Member' && callee.object.kind === 'Name' && callee.object.name === 'Promise' && first?.kind === 'ListExpr') {
    const items = first.items.map((item) => settledOf(core, item));
    if (callee.name === 'all' && first.items.every((item) => item.kind !== 'Unary')) return promiseOf(tupleOf(items.map((item) => item ?? ANY)));
    if (callee.name === 'race' || callee.name === 'any') return promiseOf(joinAll(items));
  }
  if (callee.kind === 'Member' && core.languageAt(call) === 'typescript') {
    const listed = entriesType(core, callee, first);
    if (listed !== undefined) return listed;
  }
  if (callee.kind === 'Member' && callee.name === 'to' && call.infix === true && first !== undefined) {
    return { ...typeOfText('kotlin', 'Pair'), args: [core.typeOf(callee.object) ?? ANY, core.typeOf(first) ?? ANY] };
  }
  if (callee.kind === 'Name' && NEVER_RETURNING.has(callee.name) && target.found === undefined && core.languageAt(call) === 'kotlin') return NEVER;
  if (core.languageAt(call) === 'typescript' && callee.kind === 'Name') return hookType(core, call, callee.name, first, target);
  return undefined;
}

/** `list.entries()`, `map.entries()`, `Object.entries(record)`, `Object.fromEntries(pairs)`, `Object.values(record)`. */
function entriesType(core: Core, callee: Expr & { readonly kind: 'Member' }, first: Expr | undefined): Ty | undefined {
  if (callee.object.kind === 'Name' && callee.object.name === 'Object') {
    if (first === undefined) return undefined;
    if (callee.name === 'fromEntries') return ty('map', [...(pairArgs(core, first) ?? [])]);
    const value = callee.name === 'entries' || callee.name === 'values' ? recordValue(core, first) : undefined;
    return value && listOf(callee.name === 'entries' ? tupleOf([STRING, value]) : value);
  }
  if (callee.name !== 'entries' || first !== undefined) return undefined;
  const on = core.typeOf(callee.object);
  if (on?.name === 'map') return listOf(tupleOf([on.args[0] ?? ANY, on.args[1] ?? ANY]));
  return on?.name === 'list' ? listOf(tupleOf([NUMBER, on.args[0] ?? ANY])) : undefined;
}

/** What the properties of a record or of an object literal hold. */
function recordValue(core: Core, record: Expr): Ty | undefined {
  const type = core.typeOf(record);
  if (type?.name === 'map') return type.args[1];
  const fields = type?.class?.fields.filter((field) => !field.static) ?? [];
  return joinAll(fields.map((field) => core.typeOfField(field)));
}

/** Functions of Kotlin's standard library that only throw. */
const NEVER_RETURNING = new Set(['error', 'TODO', 'exitProcess']);

function settledOf(core: Core, expr: Expr): Ty | undefined {
  const type = core.typeOf(expr);
  return type && awaited(type);
}

/** Component frameworks keep a value in a holder: React's state and refs, Vue's refs. */
function hookType(core: Core, call: Call, name: string, first: Expr | undefined, target: Target): Ty | undefined {
  if (target.members.length > 0) return undefined;
  const written = call.typeArgs[0] && core.typeOfRef(call.typeArgs[0], call);
  const value = (): Ty => written ?? (first?.kind === 'Lambda' ? core.resultOf(first.fn) : first && core.typeOf(first)) ?? ANY;
  switch (name) {
    case 'useState': return tupleOf([value(), funTy({ params: [value()], result: ty('void') })]);
    case 'useRef': return { ...ty('Ref', [value()]), nullable: false };
    case 'ref':
    case 'shallowRef': return ty('Ref', [value()]);
    default: return undefined;
  }
}

/** What the language itself gives to enums and data classes; a type that is written as an argument. */
function given(core: Core, call: Call, target: Target): Ty | undefined {
  const { callee } = call;
  if (target.members.length > 0 || callee.kind !== 'Member') return undefined;
  const on = target.receiver?.ty;
  const language = core.languageAt(call);
  if (on !== undefined) {
    const own = givenMember(core, nonNull(on), callee.name, language);
    if (own !== undefined) return own;
    if (callee.name === 'toString') return STRING;
  }
  if (language === 'kotlin' && callee.name === 'getSystemService') return systemService(core, call);
  if (language === 'kotlin' && callee.name === 'filterIsInstance' && call.typeArgs[0] !== undefined) return listOf(core.typeOfRef(call.typeArgs[0], call));
  if (language === 'typescript' && on?.fn !== undefined && callee.name === 'bind') return on;
  return undefined;
}

/** `getSystemService(BluetoothManager::class.java)`: the argument says what it is, whatever it is called on. */
function systemService(core: Core, call: Call): Ty | undefined {
  if (call.typeArgs[0] !== undefined) return core.typeOfRef(call.typeArgs[0], call);
  const argument = call.args.at(-1);
  const type = argument && core.typeOf(argument.value);
  return type?.name === 'Class' ? type.args[0] : undefined;
}

// ---- Arguments ----------------------------------------------------------------------

/** What the callee wants of one argument. For a lambda: the function type with what is known of its parameters. */
export function wantedOf(core: Core, call: Call, argument: Argument): Ty | undefined {
  const target = core.targetOf(call);
  const declared = joinAll([
    ...target.fns.map((fn) => wantedByFn(core, call, target, fn, argument)),
    ...target.members.map((member) => wantedByMember(core, call, target, member, argument)),
  ]) ?? wantedByValue(call, target, argument);
  const isFunction = argument.value.kind === 'Lambda' || argument.value.kind === 'FnRef' || argument.value.kind === 'Name' || argument.value.kind === 'Member';
  if (!isFunction) return declared;
  return shapeOf(core, call, target, argument, declared);
}

/** A runner says more of a lambda than a member's text does. */
function shapeOf(core: Core, call: Call, target: Target, argument: Argument, declared: Ty | undefined): Ty | undefined {
  const isSam = declared !== undefined && declared.fn === undefined;
  const shape = isSam ? core.functionTypeOf(declared) ?? declared : declared;
  if (target.fns.length > 0 || target.constructs?.class !== undefined) return shape ?? samOfConstruction(core, target);
  const run = runsOf(core, call, target).find((each) => each.lambdas.includes(argument));
  if (run === undefined) return shape ?? samOfConstruction(core, target);
  const own = lambdaShape(core, call, target, run);
  if (shape?.fn === undefined) return funTy(own);
  return funTy({ ...shape.fn, params: longer(own.params, shape.fn.params), ...(own.receiver && { receiver: own.receiver }) });
}

function longer(first: readonly (Ty | undefined)[], second: readonly (Ty | undefined)[]): (Ty | undefined)[] {
  const count = Math.max(first.length, second.length);
  return Array.from({ length: count }, (_, i) => (first[i] === undefined || isVague(first[i]) ? second[i] ?? first[i] : first[i]));
}

/** `LeScanCallback { device, rssi, record -> }`: the lambda is the type's one method. */
function samOfConstruction(core: Core, target: Target): Ty | undefined {
  return target.constructs && core.functionTypeOf(target.constructs);
}

function wantedByFn(core: Core, call: Call, target: Target, fn: Fn, argument: Argument): Ty | undefined {
  const param = paramOf(call, fn.params, argument);
  const type = param && core.typeOfParam(param);
  if (type === undefined) return undefined;
  const outer = target.constructs === undefined ? target.found?.bindings : bind(target.constructs.class?.typeParams, target.constructs.args);
  const placed = outer ? substitute(type, outer) : type;
  return hasVariable(placed) || placed.fn !== undefined ? close(substitute(placed, bindingsFor(core, call, target, fn, argument))) : placed;
}

function wantedByMember(core: Core, call: Call, target: Target, member: PlatformMember, argument: Argument): Ty | undefined {
  const owner = target.constructs ?? ownerOf(target, member);
  const type = memberParamType(core, call, member, argument, owner);
  if (type === undefined) return undefined;
  return hasVariable(type) || type.fn !== undefined ? close(substitute(type, memberBindings(core, call, target, member, owner, argument))) : type;
}

function wantedByValue(call: Call, target: Target, argument: Argument): Ty | undefined {
  const fn = target.valueType?.fn;
  if (fn === undefined) return undefined;
  const at = call.args.indexOf(argument);
  // A function type with receiver may be called with the receiver as its first argument.
  const isShifted = fn.receiver !== undefined && call.callee.kind === 'Name' && call.args.length === fn.params.length + 1;
  return isShifted ? (at === 0 ? fn.receiver : fn.params[at - 1]) : fn.params[at];
}
