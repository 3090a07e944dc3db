/**
 * What a declaration holds: a variable, a parameter, a property, and what a function yields.
 *
 * A written type decides. Without one, or where it is `any`, the values decide that are known to get there.
 */
import type { PlatformMember } from '../catalogue/types.js';
import type { Binding, Expr, Field, Fn, Import, Lambda, Let, Param, Return } from '../ir/ir.js';
import { walk } from '../ir/walk.js';
import type { Decl, Ty } from './api.js';
import type { Core } from './core.js';
import { elementOf, memberType, part } from './elements.js';
import { memberWanted } from './expected.js';
import { typeOfTypeDecl } from './type-refs.js';
import { typeOfText } from './type-text.js';
import { ANY, asNullable, funTy, isVague, join, joinAll, listOf, metaOf, NEVER, nonNull, platformTy, promiseOf, STRING, substitute, VOID } from './types.js';

export function typeOfDeclared(core: Core, decl: Decl): Ty | undefined {
  switch (decl.is) {
    case 'local': return typeOfLocal(core, decl);
    case 'param': return typeOfParamDecl(core, decl);
    case 'field': return core.typeOfField(decl.node);
    case 'fn': return typeOfFn(core, decl.node);
    case 'class': {
      const self = core.selfOf(decl.node);
      return decl.node.form === 'object' ? self : metaOf(self);
    }
    case 'entry': return decl.node.body === undefined ? core.selfOf(decl.owner) : { ...core.selfOf(decl.owner) };
    case 'alias': return metaOf(typeOfTypeDecl(core, decl, []));
    case 'import': return importedValue(decl.node);
    case 'platform': return typeOfPlatform(core, decl);
  }
}

/** Packages that bring Web Bluetooth to other runtimes hand out the entry object under its name. */
function importedValue(node: Import): Ty | undefined {
  return node.name === 'bluetooth' && /(^|[/-])web-?bluetooth$/i.test(node.from) ? typeOfText('typescript', 'Bluetooth') : undefined;
}

function typeOfPlatform(core: Core, decl: Decl & { readonly is: 'platform' }): Ty | undefined {
  const { type, member } = decl;
  if (member === undefined) return type.kind === 'object' ? platformTy(type) : metaOf(platformTy(type));
  const owner = platformTy(type);
  if (member.params === undefined) return typeOfText(type.language, member.result ?? 'any', type.typeParams);
  const isGetter = type.language === 'kotlin' && member.params.length === 0 && member.name.startsWith('get') && member.result !== undefined;
  return isGetter ? typeOfText('kotlin', member.result, type.typeParams) : core.memberFunction(owner, member);
}

/** A method of the catalogue as a function value. */
export function memberFunction(owner: Ty, member: PlatformMember): Ty {
  const language = owner.platform?.language ?? 'kotlin';
  const variables = [...(member.typeParams ?? []), ...(owner.platform?.typeParams ?? [])];
  const read = (text: string): Ty => typeOfText(language, text, variables);
  const shape = funTy({ params: (member.params ?? []).map((param) => read(param.type)), result: read(member.result ?? 'void') });
  const names = owner.platform?.typeParams ?? [];
  return substitute(shape, new Map(names.flatMap((name, i) => (owner.args[i] === undefined ? [] : [[name, owner.args[i]!] as const]))));
}

// ---- Variables ----------------------------------------------------------------

function typeOfLocal(core: Core, decl: Decl & { readonly is: 'local' }): Ty | undefined {
  const { node, binding } = decl;
  switch (node.kind) {
    case 'Let': return binding && typeOfBound(core, decl, node, binding);
    case 'Loop': {
      if (node.over === undefined || binding === undefined) return undefined;
      if (node.over.type !== undefined) return core.typeOfRef(node.over.type, node);
      if (node.over.keys === true) return STRING;
      const source = core.typeOf(node.over.source);
      const element = source && elementOf(core, nonNull(source), core.languageAt(node));
      return element && taken(core, element, binding, decl);
    }
    case 'Branch': return node.subject && core.typeOf(node.subject);
    case 'Try': {
      const caught = node.catches.find((each) => each.param === decl.name);
      if (caught?.type !== undefined) return core.typeOfRef(caught.type, node);
      return undefined;
    }
  }
}

function typeOfBound(core: Core, decl: Decl, node: Let, binding: Binding): Ty | undefined {
  const declared = node.type && core.typeOfRef(node.type, node);
  if (declared !== undefined && !isVague(declared)) return taken(core, declared, binding, decl);
  const value = node.value && (node.delegated === true ? delegated(core, node.value) : core.typeOf(node.value));
  const own = value && taken(core, value, binding, decl);
  if (isVague(own) && node.bindings.length === 2) return join(own, setterType(core, node, binding)) ?? declared;
  if (!isVague(own) || !node.mutable) return own ?? declared;
  return join(own, assignedType(core, decl)) ?? declared;
}

/** `const [value, setValue] = useState(null)`: what the setter is called with. */
function setterType(core: Core, node: Let, binding: Binding): Ty | undefined {
  const [state, setter] = node.bindings;
  const isState = binding === state && node.value?.kind === 'Call' && node.value.callee.kind === 'Name' && node.value.callee.name === 'useState';
  const decl = isState && setter?.path[0] === 1 ? core.declFor(node, setter) : undefined;
  if (decl === undefined) return undefined;
  return joinAll(core.readsOf(decl).map((read) => {
    const call = core.program.parentOf(read);
    const argument = call?.kind === 'Call' && call.callee === read ? call.args[0]?.value : undefined;
    return argument && argument.kind !== 'Lambda' ? core.typeOf(argument) : undefined;
  }));
}

/** Follows a destructuring's path; a default stands in for what is null. */
function taken(core: Core, value: Ty, binding: Binding, decl: Decl): Ty | undefined {
  let type: Ty | undefined = value;
  for (const step of binding.path) type = type && part(core, nonNull(type), step, decl.is === 'platform' ? 'typescript' : decl.file.language);
  if (binding.rest === true) return type && binding.path.length === 0 && type.tuple === undefined ? type : type && listOf(type.args[0]);
  const fallback = binding.defaultValue && core.typeOf(binding.defaultValue);
  return binding.defaultValue === undefined ? type : join(type && nonNull(type), fallback);
}

/** The join of what is assigned to a variable or property. */
function assignedType(core: Core, decl: Decl): Ty | undefined {
  return joinAll(core.writesTo(decl).map((write) => (write.kind === 'Assign' && write.op === undefined ? core.typeOf(write.value) : undefined)));
}

/** `by lazy { }`, `by remember { mutableStateOf(x) }`, `by viewModels()`, `by SomeDelegate()`. */
function delegated(core: Core, delegate: Expr): Ty | undefined {
  const type = core.typeOf(delegate);
  if (type === undefined) return delegateArgument(core, delegate);
  if (type.class === undefined && type.platform === undefined) return delegateArgument(core, delegate) ?? type;
  const getter = type.class && core.memberOf(type, 'getValue', core.languageAt(delegate))?.decls[0];
  if (getter?.is === 'fn') return core.resultOf(getter.node);
  const held = memberType(core, type, 'value', core.languageAt(delegate));
  return held ?? delegateArgument(core, delegate) ?? type;
}

/** `by viewModels<LinkModel>()`: the one type that is written. */
function delegateArgument(core: Core, delegate: Expr): Ty | undefined {
  if (delegate.kind !== 'Call' || delegate.typeArgs.length !== 1) return undefined;
  return core.typeOfRef(delegate.typeArgs[0]!, delegate);
}

// ---- Parameters ---------------------------------------------------------------

function typeOfParamDecl(core: Core, decl: Decl & { readonly is: 'param' }): Ty | undefined {
  const whole = core.typeOfParam(decl.node);
  return decl.binding === undefined ? whole : whole && taken(core, whole, decl.binding, decl);
}

export function typeOfParam(core: Core, param: Param): Ty | undefined {
  const fn = core.program.parentOf(param);
  if (fn?.kind !== 'Fn') return undefined;
  const type = paramType(core, param, fn);
  if (type === undefined) return undefined;
  if (param.rest === true) return core.languageAt(param) === 'kotlin' || type.name !== 'list' ? listOf(type) : type;
  return param.optional === true ? asNullable(type) : type;
}

function paramType(core: Core, param: Param, fn: Fn): Ty | undefined {
  const declared = param.type && core.typeOfRef(param.type, fn);
  if (declared !== undefined && !isVague(declared)) return declared;
  const position = fn.params.filter((each) => each.implicit !== true || each.name === 'it').indexOf(param);
  const wanted = wantedParam(core, fn, position);
  if (wanted !== undefined && !isVague(wanted)) return wanted;
  const fallback = param.defaultValue && core.typeOf(param.defaultValue);
  if (!isVague(fallback)) return fallback;
  const property = core.program.parentOf(fn);
  if (property?.kind === 'Field' && property.setter === fn) return core.typeOfField(property);
  return passedType(core, param, fn) ?? declared ?? wanted ?? fallback;
}

/** What the place of a lambda, or of an object literal's method, hands to its parameters; or the method that is overridden. */
function wantedParam(core: Core, fn: Fn, position: number): Ty | undefined {
  const parent = core.program.parentOf(fn);
  if (parent?.kind === 'Lambda') return handed(core.expectedType(parent), fn, position);
  if (parent?.kind !== 'Class' || fn.name === undefined) return undefined;
  if (parent.form === 'anonymous' && parent.supertypes.length === 0) return handed(memberWanted(core, parent, fn.name), fn, position);
  return overriddenParam(core, fn, position);
}

/** A function that takes its receiver as a parameter may be given for one that has it as receiver. */
function handed(wanted: Ty | undefined, fn: Fn, position: number): Ty | undefined {
  const shape = wanted?.fn;
  if (shape === undefined) return undefined;
  const isShifted = shape.receiver !== undefined && fn.params.length === shape.params.length + 1;
  return isShifted ? (position === 0 ? shape.receiver : shape.params[position - 1]) : shape.params[position];
}

function overriddenParam(core: Core, fn: Fn, position: number): Ty | undefined {
  const callback = core.isPlatformCallback(fn);
  const text = callback?.member.params?.[position]?.type;
  if (text !== undefined) return typeOfText(core.languageAt(fn), text);
  const above = core.overriddenBy(fn)[0]?.params[position];
  return above && core.typeOfParam(above);
}

/** TypeScript without types: what the calls that can be seen pass, or what places that take the function hand it. */
function passedType(core: Core, param: Param, fn: Fn): Ty | undefined {
  if (core.languageAt(param) !== 'typescript' || (fn.name === undefined && core.program.parentOf(fn)?.kind !== 'Lambda')) return undefined;
  const passed = joinAll(core.callersOf(fn).map((call) => {
    const argument = core.argumentFor(call, fn, param);
    return argument && core.typeOf(argument);
  }));
  if (!isVague(passed)) return passed;
  const position = fn.params.indexOf(param);
  return join(passed, joinAll(core.referencesTo(fn).map((use) => handed(core.expectedType(use), fn, position))));
}

// ---- Properties -----------------------------------------------------------------

export function typeOfFieldNode(core: Core, field: Field): Ty | undefined {
  if (field.type !== undefined) {
    const declared = core.typeOfRef(field.type, field);
    if (!isVague(declared)) return declared;
  }
  if (field.fromParam === true) return constructorParamType(core, field);
  const value = fieldValue(core, field);
  if (!isVague(value)) return value;
  const wanted = wantedField(core, field);
  if (!isVague(wanted)) return wanted;
  if (core.languageAt(field) === 'kotlin' && !field.mutable) return value ?? wanted;
  const assigned = core.program.fileOf(field) === undefined ? undefined : assignedType(core, core.fieldDecl(field));
  return join(value, assigned) ?? (field.type && core.typeOfRef(field.type, field));
}

function fieldValue(core: Core, field: Field): Ty | undefined {
  if (field.getter !== undefined) return core.resultOf(field.getter);
  if (field.delegate !== undefined) return delegated(core, field.delegate);
  return field.initial && core.typeOf(field.initial);
}

function constructorParamType(core: Core, field: Field): Ty | undefined {
  const cls = core.program.ownerOf(field);
  const param = cls?.constructors.flatMap((fn) => fn.params).find((each) => each.property === true && each.name === field.name);
  return param && core.typeOfParam(param);
}

/** A property that overrides one has that one's type. */
function wantedField(core: Core, field: Field): Ty | undefined {
  const cls = core.program.ownerOf(field);
  if (cls === undefined || (cls.supertypes.length === 0 && cls.form !== 'anonymous')) return undefined;
  if (cls.form === 'anonymous' && cls.supertypes.length === 0) return field.initial?.kind === 'Lambda' ? memberWanted(core, cls, field.name) : undefined;
  for (const above of core.supertypesOf(core.selfOf(cls))) {
    const type = memberType(core, above, field.name, core.languageAt(field));
    if (type !== undefined) return type;
  }
  return undefined;
}

// ---- Functions --------------------------------------------------------------------

function typeOfFn(core: Core, fn: Fn): Ty {
  const result = core.resultOf(fn);
  const receiver = fn.receiver && core.typeOfRef(fn.receiver, fn);
  return funTy({ params: fn.params.map((param) => core.typeOfParam(param)), ...(result && { result }), ...(receiver && { receiver }) });
}

export function lambdaType(core: Core, lambda: Lambda): Ty {
  const { fn } = lambda;
  const result = core.resultOf(fn);
  const receiver = core.receiverOf(fn);
  return funTy({ params: fn.params.map((param) => core.typeOfParam(param)), ...(result && { result }), ...(receiver && { receiver }) });
}

export function resultOfFn(core: Core, fn: Fn): Ty | undefined {
  if (fn.result !== undefined) {
    const declared = core.typeOfRef(fn.result, fn);
    if (declared?.name === 'void' && alwaysThrows(fn)) return NEVER;
    if (!isVague(declared) && !(declared!.name === 'Promise' && isVague(declared!.args[0] ?? ANY))) return declared;
    return join(inferredResult(core, fn), declared);
  }
  return inferredResult(core, fn) ?? inheritedResult(core, fn);
}

/** Kotlin's `Nothing` and TypeScript's `never` are `void` in the model; a body that ends by throwing tells them apart. */
function alwaysThrows(fn: Fn): boolean {
  const last = fn.body?.stmts.at(-1);
  return last?.kind === 'Throw' || (last?.kind === 'Return' && last.value?.kind === 'Leave' && last.value.by.kind === 'Throw');
}

function inferredResult(core: Core, fn: Fn): Ty | undefined {
  if (fn.body === undefined || fn.modifiers.has('generator')) return undefined;
  const returns = returnsOf(core, fn);
  const values = returns.flatMap((each) => each.value ?? []);
  if (values.length === 0) return wrapped(fn, fn.name === undefined && fn.body.stmts.at(-1)?.kind === 'Return' ? NEVER : VOID);
  const type = joinAll(values.map((value) => core.typeOf(value)));
  const partial = returns.some((each) => each.value === undefined) && type ? asNullable(type) : type;
  return wrapped(fn, partial?.name === 'never' ? VOID : partial);
}

/** What a call of an async function yields is a promise of what it returns. */
function wrapped(fn: Fn, type: Ty | undefined): Ty | undefined {
  if (!fn.modifiers.has('async')) return type;
  return type?.name === 'Promise' ? type : promiseOf(type);
}

function inheritedResult(core: Core, fn: Fn): Ty | undefined {
  if (fn.body !== undefined) return undefined;
  const above = core.overriddenBy(fn)[0];
  return above && core.resultOf(above);
}

/**
 * The `return`s that leave this function. Kotlin's unlabelled `return` inside a lambda leaves the function around it, and
 * a labelled one the lambda that the label means.
 */
export function returnsOf(core: Core, fn: Fn): readonly Return[] {
  const own: Return[] = [];
  if (fn.body === undefined) return own;
  const isKotlin = core.languageAt(fn) === 'kotlin';
  walk(fn.body, (node) => {
    if (node.kind === 'Class' || node.kind === 'LocalDecl') return 'skip';
    if (node.kind === 'Fn') return isKotlin && isLambda(core, node) ? undefined : 'skip';
    if (node.kind === 'Return' && leavesFn(core, node, fn, isKotlin)) own.push(node);
    return undefined;
  });
  return own;
}

function isLambda(core: Core, fn: Fn): boolean {
  return fn.name === undefined && core.program.parentOf(fn)?.kind === 'Lambda';
}

function leavesFn(core: Core, node: Return, fn: Fn, isKotlin: boolean): boolean {
  const nearest = core.program.enclosingFn(node);
  if (node.implicit === true || !isKotlin) return nearest === fn;
  if (node.label === undefined) return !isLambda(core, fn) || core.program.parentOf(fn)?.kind !== 'Lambda';
  return labelMatches(core, fn, node.label);
}

function labelMatches(core: Core, fn: Fn, label: string): boolean {
  if (fn.name !== undefined) return fn.name === label;
  const lambda = core.program.parentOf(fn);
  if (lambda?.kind !== 'Lambda') return false;
  if (lambda.label !== undefined) return lambda.label === label;
  const call = core.program.parentOf(lambda);
  const callee = call?.kind === 'Call' ? call.callee : undefined;
  return (callee?.kind === 'Name' || callee?.kind === 'Member') && callee.name === label;
}
