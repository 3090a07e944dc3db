/**
 * What the place of an expression wants it to be: a declared type, a parameter's type, a function's result.
 *
 * Lambdas get their parameters' types from here, literals of objects the interface they are written for.
 */
import type { AnyNode, Argument, Call, Class, Expr, Field, Fn } from '../ir/ir.js';
import type { Ty } from './api.js';
import type { Core } from './core.js';
import { elementOf } from './elements.js';
import { inType, ownMembers } from './members.js';
import { awaited, funTy, nonNull, substitute } from './types.js';

export function expectedType(core: Core, expr: Expr): Ty | undefined {
  const parent = core.program.parentOf(expr);
  switch (parent?.kind) {
    case 'Call': return fromCall(core, parent, expr);
    case 'Let': return parent.type && parent.bindings.every((each) => each.path.length === 0) ? core.typeOfRef(parent.type, parent) : undefined;
    case 'Field': return fromField(core, parent, expr);
    case 'Assign': return parent.value === expr && parent.op === undefined ? core.typeOf(parent.target) : undefined;
    case 'Param': return parent.defaultValue === expr ? core.typeOfParam(parent) : undefined;
    case 'Cast': return core.typeOfRef(parent.type, parent);
    case 'Return': return fromReturn(core, parent);
    case 'Yield': return fromYield(core, parent);
    case 'Binary': return parent.op === '??' || parent.op === '||' ? core.expectedType(parent) ?? otherSide(core, parent.left, parent.right, expr) : undefined;
    case 'ListExpr': return elementWanted(core, parent);
    case 'Unary': return parent.op === '!!' ? core.expectedType(parent) : undefined;
    case 'Await': return core.expectedType(parent);
    default: return undefined;
  }
}

function fromCall(core: Core, call: Call, expr: Expr): Ty | undefined {
  const argument: Argument | undefined = call.args.find((each) => each.value === expr);
  return argument === undefined || argument.spread === true ? undefined : core.wantedOf(call, argument);
}

/** A property of an object literal is wanted as the member of that name is. */
function fromField(core: Core, field: Field, expr: Expr): Ty | undefined {
  if (field.type !== undefined && (field.initial === expr || field.delegate === undefined)) return core.typeOfRef(field.type, field);
  const literal = core.program.parentOf(field);
  return literal?.kind === 'Class' && literal.form === 'anonymous' ? memberWanted(core, literal, field.name) : undefined;
}

/** What the place of an object literal wants its member to be. */
export function memberWanted(core: Core, literal: Class, name: string): Ty | undefined {
  const object = core.program.parentOf(literal);
  const wanted = object?.kind === 'ObjectExpr' ? core.expectedType(object) : undefined;
  if (wanted?.name === 'map') return wanted.args[1];
  const found = wanted && inType(core, nonNull(wanted), name, core.languageAt(literal));
  const decl = found?.decls[0];
  const type = decl && core.typeOfDecl(decl);
  return type && found?.bindings ? substitute(type, found.bindings) : type;
}

function fromReturn(core: Core, at: AnyNode): Ty | undefined {
  const fn = core.program.enclosingFn(at);
  return fn && resultWanted(core, fn);
}

function resultWanted(core: Core, fn: Fn): Ty | undefined {
  if (fn.result !== undefined) {
    const declared = core.typeOfRef(fn.result, fn);
    return declared && fn.modifiers.has('async') ? awaited(declared) : declared;
  }
  const parent = core.program.parentOf(fn);
  if (parent?.kind === 'Field' && parent.type !== undefined) return core.typeOfRef(parent.type, parent);
  const result = parent?.kind === 'Lambda' ? core.expectedType(parent)?.fn?.result : undefined;
  return result && fn.modifiers.has('async') ? awaited(result) : result;
}

function fromYield(core: Core, at: AnyNode): Ty | undefined {
  for (let node = core.program.parentOf(at); node !== undefined && node.kind !== 'Fn'; node = core.program.parentOf(node)) {
    if (node.kind === 'Choose') return core.expectedType(node);
  }
  return undefined;
}

function otherSide(core: Core, left: Expr, right: Expr, expr: Expr): Ty | undefined {
  return expr === right && (right.kind === 'Lambda' || right.kind === 'ObjectExpr') ? core.typeOf(left) : undefined;
}

function elementWanted(core: Core, list: Expr): Ty | undefined {
  const wanted = core.expectedType(list);
  return wanted && elementOf(core, nonNull(wanted), core.languageAt(list));
}

// ---- Types that stand for a function ------------------------------------------

/**
 * The function that a value of a type with one method is: a Kotlin `fun interface`, a Java callback interface, a
 * TypeScript interface with a call signature.
 */
export function functionTypeOf(core: Core, type: Ty): Ty | undefined {
  if (type.fn !== undefined) return type;
  if (type.union !== undefined) {
    const fns = type.union.flatMap((member) => core.functionTypeOf(member) ?? []);
    return fns.length === 1 ? fns[0] : undefined;
  }
  if (type.class !== undefined) return classFunction(core, type, type.class);
  const callbacks = type.platform?.members.filter((member) => member.kind === 'callback') ?? [];
  const only = callbacks.length === 1 && type.platform?.kind === 'interface' ? callbacks[0]! : undefined;
  return only && core.memberFunction(type, only);
}

function classFunction(core: Core, type: Ty, cls: Class): Ty | undefined {
  if (cls.form !== 'interface') return undefined;
  const language = core.languageAt(cls);
  const candidates = language === 'kotlin' ? cls.functions.filter((fn) => fn.body === undefined) : callSignatures(cls);
  const only = candidates.length === 1 ? candidates[0]! : undefined;
  if (only === undefined) return undefined;
  const names = cls.typeParams ?? [];
  const bindings = new Map(names.flatMap((name, i) => (type.args[i] === undefined ? [] : [[name, type.args[i]!] as const])));
  const shape = funTy({ params: only.params.map((param) => core.typeOfParam(param)), ...resultPart(core, only) });
  return substitute(shape, bindings);
}

function callSignatures(cls: Class): readonly Fn[] {
  return ownMembers(cls).size === 0 ? cls.functions.filter((fn) => fn.name === undefined) : [];
}

function resultPart(core: Core, fn: Fn): { result?: Ty } {
  const result = core.resultOf(fn);
  return result === undefined ? {} : { result };
}
