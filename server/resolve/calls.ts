/**
 * Which declaration a call means: functions of the project, members of the catalogue, a construction, a function value.
 *
 * Among the meanings of a name the nearest one that takes the call's arguments wins. Of overloads those remain that the
 * arguments' number, names and types allow. A callee whose receiver is not known stays unknown, whatever its name.
 */
import { constructorsOf, functionsNamed } from '../catalogue/index.js';
import type { PlatformMember, PlatformType } from '../catalogue/types.js';
import type { Call, Class, Expr, Fn, Language, Member } from '../ir/ir.js';
import type { Decl, Ty } from './api.js';
import { narrowFns, narrowMembers, takesCount } from './arguments.js';
import { fits } from './compare.js';
import type { Core, Found, Target } from './core.js';
import { memberDecl } from './decls.js';
import { extensionsOn } from './extensions.js';
import { inType } from './members.js';
import { implicitReceivers, qualifiedDecls } from './names.js';
import { eachMeaning } from './scope.js';
import { typeOfTypeDecl } from './type-refs.js';
import { instanceOf, metaOf, nonNull, platformTy, substitute } from './types.js';

const NOTHING: Target = { fns: [], members: [] };

export function targetOf(core: Core, call: Call): Target {
  const { callee } = call;
  switch (callee.kind) {
    case 'Name': return { ...bareTarget(core, call, callee.name), name: callee.name };
    case 'Member': return { ...memberTarget(core, call, callee), name: callee.name };
    case 'Lambda': return { ...NOTHING, fns: [callee.fn] };
    case 'This': return delegationTarget(core, call, callee.of);
    default: return valueTarget(core, callee, core.typeOf(callee));
  }
}

// ---- Bare names -----------------------------------------------------------

function bareTarget(core: Core, call: Call, name: string): Target {
  let uncertain: Target | undefined;
  const target = eachMeaning(core, name, call.callee, (found) => {
    const accepted = accept(core, call, found);
    if (accepted === undefined || accepted.valueType !== undefined || accepted.value === undefined) return accepted;
    // A variable of unknown type may hold the function; one further out that surely takes the call is preferred.
    uncertain ??= accepted;
    return undefined;
  });
  return target ?? bareExtension(core, call, name) ?? uncertain ?? globalTarget(core, call, name);
}

function bareExtension(core: Core, call: Call, name: string): Target | undefined {
  for (const receiver of implicitReceivers(core, call)) {
    const found = extensionsOn(core, receiver, name, call, 'Fn');
    const target = found && accept(core, call, { ...found, implicit: true });
    if (target !== undefined) return target;
  }
  return undefined;
}

/** A class that nothing in the file explains, or a function of the general libraries. */
function globalTarget(core: Core, call: Call, name: string): Target {
  const language = core.languageAt(call);
  const members = narrowMembers(core, call, functionsNamed(language, name));
  if (members.length > 0 && call.construct !== true) return { ...NOTHING, members };
  const type = core.typeNamed(name, call.typeArgs.map((arg) => core.typeOfRef(arg, call) ?? anyOf()), call);
  if (type?.class !== undefined && (language === 'kotlin' || call.construct === true)) return construction(core, call, type, undefined);
  if (type?.platform !== undefined && (language === 'kotlin' || call.construct === true)) return construction(core, call, type, undefined);
  return NOTHING;
}

function anyOf(): Ty {
  return { name: 'any', args: [], nullable: false };
}

/** What a meaning makes of a call, or undefined when it cannot be what is called. */
function accept(core: Core, call: Call, found: Found, receiver?: Expr): Target | undefined {
  const fns = found.decls.flatMap((decl) => (decl.is === 'fn' ? [decl.node] : []));
  if (fns.length > 0) {
    const target = acceptFns(core, call, found, fns, receiver);
    if (target !== undefined) return target;
  }
  const members = found.decls.flatMap((decl) => (decl.is === 'platform' && decl.member !== undefined ? [decl.member] : []));
  if (members.length > 0) return acceptMembers(core, call, found, members, receiver);
  const decl = found.decls.find((each) => each.is !== 'fn');
  return decl && acceptDecl(core, call, found, decl, receiver);
}

function acceptFns(core: Core, call: Call, found: Found, fns: readonly Fn[], receiver: Expr | undefined): Target | undefined {
  const counted = fns.filter((fn) => takesCount(call, fn));
  const withReceiver = counted.flatMap((fn) => {
    const on = receiverFor(core, call, found, fn, receiver);
    return on === undefined ? [] : [{ fn, on }];
  });
  const chosen = narrowFns(core, call, withReceiver.map(({ fn }) => fn), found);
  const first = chosen[0];
  if (first === undefined) return undefined;
  const on = withReceiver.find(({ fn }) => fn === first)!.on;
  return { ...NOTHING, fns: chosen, found, ...(on !== 'none' && { receiver: on }) };
}

type ReceiverFound = NonNullable<Target['receiver']> | 'none' | undefined;

/** What the function is called on: what is written, or for an extension the nearest implicit receiver that fits. */
function receiverFor(core: Core, call: Call, found: Found, fn: Fn, written: Expr | undefined): ReceiverFound {
  if (written !== undefined) {
    const ty = found.on ?? core.typeOf(written);
    return { expr: written, ...(ty && { ty }) };
  }
  if (fn.receiver !== undefined && core.languageAt(fn) === 'kotlin') {
    const wanted = core.typeOfRef(fn.receiver, fn);
    const ty = implicitReceivers(core, call).find((each) => wanted !== undefined && fits(core, each, wanted));
    return ty && { ty, implicit: true };
  }
  return found.on === undefined ? 'none' : { ty: found.on, implicit: true };
}

function acceptMembers(core: Core, call: Call, found: Found, members: readonly PlatformMember[], receiver: Expr | undefined): Target | undefined {
  const on = { ...(receiver && { expr: receiver }), ...(found.on && { ty: found.on }), ...(found.implicit && { implicit: true as const }) };
  const methods = narrowMembers(core, call, members.filter((member) => member.params !== undefined));
  if (methods.length > 0) return { ...NOTHING, members: methods, found, receiver: on };
  const property = found.decls.find((decl) => decl.is === 'platform' && decl.member?.params === undefined);
  if (property === undefined) return undefined;
  const type = core.typeOfDecl(property);
  return type?.fn === undefined ? undefined : { ...NOTHING, value: property, valueType: type, found, receiver: on };
}

function acceptDecl(core: Core, call: Call, found: Found, decl: Decl, receiver: Expr | undefined): Target | undefined {
  switch (decl.is) {
    case 'class':
    case 'alias':
      return typeCalled(core, call, typeOfTypeDecl(core, decl, typeArgs(core, call)), found);
    case 'platform':
      return typeCalled(core, call, platformTy(decl.type, typeArgs(core, call)), found);
    case 'import': {
      const type = core.typeNamed(decl.name, typeArgs(core, call), call);
      const isType = type?.class !== undefined || type?.platform !== undefined;
      return isType ? typeCalled(core, call, type, found) : importedFunction(core, call, decl, found);
    }
    default: return heldFunction(core, call, decl, found, receiver);
  }
}

function typeArgs(core: Core, call: Call): Ty[] {
  return call.typeArgs.map((arg) => core.typeOfRef(arg, call) ?? anyOf());
}

/** `Class(…)`, `new Class(…)`; an object that is called has an `invoke`. */
function typeCalled(core: Core, call: Call, type: Ty, found: Found): Target | undefined {
  if (type.class?.form === 'object') return invokeOf(core, call, type, found);
  if (core.languageAt(call) === 'typescript' && call.construct !== true && call.callee.kind !== 'This') return undefined;
  const target = construction(core, call, type, found);
  if (target.fns.length > 0 || target.members.length > 0 || type.class === undefined || call.args.length === 0) return target;
  return invokeOf(core, call, metaOf(type), found) ?? target;
}

function construction(core: Core, call: Call, type: Ty, found: Found | undefined): Target {
  const base = { ...NOTHING, constructs: type, ...(found && { found }) };
  if (type.class !== undefined) {
    const fns = type.class.constructors.filter((fn) => takesCount(call, fn));
    return { ...base, fns: narrowFns(core, call, fns.length > 0 ? fns : inheritedConstructors(core, type.class, call), found ?? { decls: [] }) };
  }
  return type.platform === undefined ? base : { ...base, members: narrowMembers(core, call, platformConstructors(type.platform)) };
}

/** A TypeScript class without a constructor of its own has its superclass's. */
function inheritedConstructors(core: Core, cls: Class, call: Call): Fn[] {
  if (cls.constructors.length > 0 || core.languageAt(cls) !== 'typescript') return [];
  const above = core.superclassesOf(cls).find((each) => each.constructors.length > 0);
  return above?.constructors.filter((fn) => takesCount(call, fn)) ?? [];
}

function platformConstructors(type: PlatformType): readonly PlatformMember[] {
  return constructorsOf(type.language, type.name);
}

/** A function imported from outside: the catalogue's of that name in the language, if it has one. */
function importedFunction(core: Core, call: Call, decl: Decl & { readonly is: 'import' }, found: Found): Target {
  const name = decl.node.name === 'default' ? decl.name : decl.node.name ?? decl.name;
  return { ...NOTHING, members: narrowMembers(core, call, functionsNamed(core.languageAt(call), name)), found };
}

/** A variable, parameter, field or entry: called if it holds a function, or has an `invoke`. */
function heldFunction(core: Core, call: Call, decl: Decl, found: Found, receiver: Expr | undefined): Target | undefined {
  const raw = core.typeOfDecl(decl);
  const type = raw && found.bindings ? substitute(raw, found.bindings) : raw;
  const on = { ...(receiver && { expr: receiver }), ...(found.on && { ty: found.on }), ...(found.implicit && { implicit: true as const }) };
  const common = { ...NOTHING, found, ...((receiver ?? found.on) && { receiver: on }) };
  if (type === undefined || (type.name === 'any' && type.class === undefined)) return { ...common, value: decl };
  if (type.meta === true) return typeCalled(core, call, instanceOf(type), found);
  if (type.fn !== undefined) return { ...common, value: decl, valueType: type };
  return invokeOf(core, call, type, found) ?? samCalled(core, type, decl, common);
}

function invokeOf(core: Core, call: Call, type: Ty, found: Found): Target | undefined {
  const invoke = inType(core, nonNull(type), 'invoke', core.languageAt(call)) ?? extensionsOn(core, nonNull(type), 'invoke', call, 'Fn');
  const fns = invoke?.decls.flatMap((decl) => (decl.is === 'fn' && takesCount(call, decl.node) ? [decl.node] : [])) ?? [];
  return fns.length === 0 ? undefined : { ...NOTHING, fns: narrowFns(core, call, fns, invoke!), found: invoke ?? found };
}

/** TypeScript calls what has a call signature. */
function samCalled(core: Core, type: Ty, decl: Decl, common: Target): Target | undefined {
  const fn = core.languageAt(declNode(decl)) === 'typescript' ? core.functionTypeOf(type) : undefined;
  return fn && { ...common, value: decl, valueType: fn };
}

function declNode(decl: Decl): Expr | Fn {
  return (decl as { readonly node: Fn }).node;
}

// ---- Members --------------------------------------------------------------

function memberTarget(core: Core, call: Call, callee: Member): Target {
  const qualified = qualifiedDecls(core, callee);
  if (qualified.length > 0) return accept(core, call, { decls: qualified }) ?? NOTHING;
  const { object } = callee;
  const on = core.typeOf(object);
  if (on === undefined) return { ...NOTHING, receiver: { expr: object } };
  const receiver = { expr: object, ty: on };
  const found = inType(core, nonNull(on), callee.name, core.languageAt(call));
  const target = found && accept(core, call, found, object);
  if (target !== undefined) return withReceiver(target, receiver);
  const extension = extensionsOn(core, on, callee.name, call, 'Fn');
  const extended = extension && accept(core, call, extension, object);
  if (extended !== undefined) return withReceiver(extended, receiver);
  return functionMember(core, callee, on) ?? localExtension(core, call, callee, on) ?? { ...NOTHING, receiver };
}

function withReceiver(target: Target, receiver: NonNullable<Target['receiver']>): Target {
  return target.constructs === undefined ? { ...target, receiver } : target;
}

/** `f.invoke(…)`, `f.call(…)`, `f.apply(…)` run the function that `f` holds. */
function functionMember(core: Core, callee: Member, on: Ty): Target | undefined {
  if (on.fn === undefined) return undefined;
  const language: Language = core.languageAt(callee);
  const runs = language === 'kotlin' ? callee.name === 'invoke' : callee.name === 'call' || callee.name === 'apply';
  return runs ? valueTarget(core, callee.object, on) : undefined;
}

/** A parameter or variable that holds a function with receiver: `gatt.block()`. */
function localExtension(core: Core, call: Call, callee: Member, on: Ty): Target | undefined {
  if (core.languageAt(call) !== 'kotlin') return undefined;
  return eachMeaning(core, callee.name, callee, (found) => {
    const decl = found.decls.find((each) => each.is === 'param' || each.is === 'local' || each.is === 'field');
    const type = decl && core.typeOfDecl(decl);
    if (decl === undefined || type?.fn?.receiver === undefined || !fits(core, on, type.fn.receiver)) return undefined;
    return { ...NOTHING, value: decl, valueType: type, found, receiver: { expr: callee.object, ty: on } };
  });
}

function valueTarget(core: Core, value: Expr, type: Ty | undefined): Target {
  const fn = type && (type.fn === undefined ? core.functionTypeOf(type) : type);
  return { ...NOTHING, value, ...(fn && { valueType: fn }) };
}

// ---- Constructors that call another ---------------------------------------

/** `super(…)` and a secondary constructor's `this(…)`. */
function delegationTarget(core: Core, call: Call, of: 'this' | 'super'): Target {
  const cls = core.program.enclosingClass(call);
  if (cls === undefined) return NOTHING;
  const self = core.selfOf(cls);
  const type = of === 'this' ? self : core.supertypesOf(self)[0];
  if (type === undefined) return NOTHING;
  const own = core.program.enclosingFn(call);
  const target = construction(core, call, type, { decls: type.class === undefined ? [] : [memberDecl(core.program, type.class)] });
  const { constructs: _, ...rest } = target;
  return { ...rest, fns: target.fns.filter((fn) => fn !== own) };
}
