/**
 * Which argument a call passes for which parameter, and which overloads its arguments allow.
 */
import type { PlatformMember } from '../catalogue/types.js';
import type { Argument, Call, Expr, Fn, Param } from '../ir/ir.js';
import type { Ty } from './api.js';
import { clashes, isPlainValue } from './compare.js';
import type { Core, Found } from './core.js';
import { typeOfText } from './type-text.js';
import { substitute } from './types.js';

// ---- Positions --------------------------------------------------------------

/** Whatever passes arguments: a call, the super constructor named by a class, an enum entry. */
type Passing = Pick<Call, 'args'>;

/**
 * The parameter of each argument, by position; undefined where it cannot be told (an argument too many, or after a
 * spread). A rest parameter stands for all that are left.
 */
export function paramOf(call: Passing, params: readonly Param[], argument: Argument): Param | undefined {
  if (argument.name !== undefined) return params.find((param) => param.name === argument.name);
  const explicit = params.filter((param) => param.implicit !== true);
  if (argument.trailing === true) return explicit.at(-1);
  const at = call.args.indexOf(argument);
  if (call.args.slice(0, at).some((other) => other.spread)) return restOf(explicit);
  const rest = explicit.findIndex((param) => param.rest);
  if (rest >= 0 && at >= rest) return explicit[rest];
  return explicit[at];
}

function restOf(params: readonly Param[]): Param | undefined {
  return params.find((param) => param.rest);
}

/** The argument that a call passes for a parameter; undefined if it is left out, spread, or one of several. */
export function argumentFor(call: Passing, fn: Fn, param: Param): Expr | undefined {
  if (param.rest === true) return undefined;
  const found = call.args.find((argument) => argument.spread !== true && paramOf(call, fn.params, argument) === param);
  return found?.value;
}

// ---- Numbers --------------------------------------------------------------------

/** Whether a function can be called with so many arguments of such names. */
export function takesCount(call: Call, fn: Fn): boolean {
  const params = fn.params.filter((param) => param.implicit !== true);
  if (call.args.some((argument) => argument.spread)) return true;
  const named = call.args.filter((argument) => argument.name !== undefined);
  if (named.some((argument) => !params.some((param) => param.name === argument.name))) return false;
  const hasRest = params.some((param) => param.rest);
  if (!hasRest && call.args.length > params.length) return false;
  const given = new Set(call.args.map((argument) => paramOf(call, params, argument)));
  return params.every((param) => given.has(param) || param.defaultValue !== undefined || param.optional === true || param.rest === true);
}

function takesMemberCount(call: Call, member: PlatformMember): boolean {
  const params = member.params ?? [];
  if (call.args.some((argument) => argument.spread)) return true;
  const hasRest = params.some((param) => param.rest);
  const needed = params.filter((param) => param.optional !== true && param.rest !== true).length;
  return call.args.length >= needed && (hasRest || call.args.length <= params.length);
}

// ---- Types ----------------------------------------------------------------------

/** Of functions that take the number of arguments, those whose parameters no argument contradicts. */
export function narrowFns(core: Core, call: Call, fns: readonly Fn[], found: Found): readonly Fn[] {
  if (fns.length < 2) return fns;
  const fitting = fns.filter((fn) => call.args.every((argument) => {
    const param = paramOf(call, fn.params, argument);
    const wanted = param && core.typeOfParam(param);
    return wanted === undefined || argument.spread === true || !contradicts(core, argument.value, found.bindings ? substitute(wanted, found.bindings) : wanted);
  }));
  const chosen = fitting.length > 0 ? fitting : fns;
  // TypeScript announces overloads without bodies before the one function that has one; the first that fits is meant.
  const announced = chosen.filter((fn) => fn.body === undefined);
  return core.languageAt(call) === 'typescript' && announced.length > 0 ? announced.slice(0, 1) : chosen;
}

export function narrowMembers(core: Core, call: Call, members: readonly PlatformMember[]): readonly PlatformMember[] {
  const counted = members.filter((member) => member.params !== undefined && takesMemberCount(call, member));
  if (counted.length < 2) return counted;
  const language = core.languageAt(call);
  const fitting = counted.filter((member) => call.args.every((argument, i) => {
    const params = member.params ?? [];
    const param = argument.name === undefined ? params[i] ?? params.find((each) => each.rest) : params.find((each) => each.name === argument.name);
    return param === undefined || argument.spread === true || !contradicts(core, argument.value, typeOfText(language, param.type));
  }));
  return fitting.length > 0 ? fitting : counted;
}

function contradicts(core: Core, argument: Expr, wanted: Ty): boolean {
  if (argument.kind === 'Lambda') return lambdaContradicts(core, argument.fn, wanted);
  const type = core.typeOf(argument);
  return type !== undefined && clashes(core, type, wanted);
}

/** A lambda cannot be given for what is surely no function, nor for one with fewer parameters than it names. */
function lambdaContradicts(core: Core, fn: Fn, wanted: Ty): boolean {
  const shape = wanted.fn ?? core.functionTypeOf(wanted)?.fn;
  if (shape === undefined) return isPlainValue(wanted);
  const explicit = fn.params.filter((param) => param.implicit !== true);
  return explicit.length > shape.params.length;
}
