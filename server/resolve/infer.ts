/**
 * The type of an expression, from what it is made of.
 *
 * Values that come from several places have the join of their types. What a null test or type test before the place has
 * settled is taken off in `narrow.ts`.
 */
import type { Binary, Branch, Choose, Class, Expr, Literal, Member, ObjectExpr, Try, Unary } from '../ir/ir.js';
import type { Ty } from './api.js';
import { typeOfCall } from './call-types.js';
import type { Core } from './core.js';
import { elementOf, indexed } from './elements.js';
import { givenMember, inType } from './members.js';
import { fnRefFound, typeOfReference } from './names.js';
import { narrowed } from './narrow.js';
import { globalValue } from './globals.js';
import {
  asNullable, awaited, BOOLEAN, classTy, funTy, instanceOf, isVague, joinAll, listOf, metaOf, NEVER, nonNull, NULL, NUMBER,
  platformTy, STRING, substitute, tupleOf, ty, VOID,
} from './types.js';

export function typeOfExpr(core: Core, expr: Expr): Ty | undefined {
  switch (expr.kind) {
    case 'Literal': return literalType(expr);
    case 'Template': return STRING;
    case 'Name': {
      const reference = core.referenceOf(expr);
      const type = reference === undefined ? globalValue(core, expr) : typeOfReference(core, reference);
      return narrowed(core, expr, type);
    }
    case 'This': return expr.of === 'super' ? superType(core, expr) : core.thisAt(expr, expr.label);
    case 'Member': return narrowed(core, expr, memberAccess(core, expr));
    case 'Index': {
      const object = core.typeOf(expr.object);
      const whole = expr.index.kind === 'Literal' && typeof expr.index.value === 'number' ? expr.index.value : undefined;
      const key = expr.index.kind === 'Literal' && typeof expr.index.value === 'string' ? expr.index.value : undefined;
      return object && narrowed(core, expr, indexed(core, nonNull(object), core.languageAt(expr), whole, key));
    }
    case 'Call': return typeOfCall(core, expr);
    case 'Lambda': return core.lambdaType(expr);
    case 'FnRef': return referenceType(core, expr);
    case 'ObjectExpr': return objectType(core, expr);
    case 'Assign': return expr.op === undefined ? core.typeOf(expr.value) : core.typeOf(expr.target) ?? core.typeOf(expr.value);
    case 'ListExpr': return listType(core, expr.items);
    case 'Unary': return unaryType(core, expr);
    case 'Binary': return binaryType(core, expr);
    case 'Is': return BOOLEAN;
    case 'Choose': return chosenType(core, expr);
    case 'Leave': return NEVER;
    case 'Await': {
      const value = core.typeOf(expr.value);
      return value && awaited(value);
    }
    case 'Emit': return emitType(core, expr.value, expr.all === true);
    case 'Cast': return castType(core, expr);
    case 'Unknown': return undefined;
  }
}

function literalType(expr: Literal): Ty {
  switch (typeof expr.value) {
    case 'string': return STRING;
    case 'boolean': return BOOLEAN;
    case 'object': return NULL;
    default: return NUMBER;
  }
}

function superType(core: Core, at: Expr): Ty | undefined {
  const self = core.thisAt(at);
  if (self === undefined) return undefined;
  const above = core.supertypesOf(self);
  return above.find((type) => type.class?.form === 'class' || type.platform?.kind === 'class') ?? above[0];
}

// ---- Members --------------------------------------------------------------

function memberAccess(core: Core, expr: Member): Ty | undefined {
  const reference = core.referenceOf(expr);
  const type = reference !== undefined ? typeOfReference(core, reference) : plainMember(core, expr);
  return type && core.mayBeCutShort(expr) ? asNullable(type) : type;
}

/** Members without a declaration: what the language gives, entries of a record, an event's target. */
function plainMember(core: Core, expr: Member): Ty | undefined {
  const on = core.typeOf(expr.object);
  if (on === undefined) return undefined;
  const given = givenMember(core, nonNull(on), expr.name, core.languageAt(expr));
  if (given !== undefined) return given;
  if (core.languageAt(expr) === 'kotlin') return classLiteral(expr, on);
  if (on.name === 'map') return on.args[1];
  if (on.name === 'Ref' && (expr.name === 'current' || expr.name === 'value')) return on.args[0];
  return on.class && undeclaredMember(core, on.class, expr.name);
}

/** `X::class`, `X::class.java` and `x.javaClass`. */
function classLiteral(expr: Member, on: Ty): Ty | undefined {
  if (expr.name === 'javaClass') return ty('Class', [nonNull(on)]);
  if (expr.name === 'class') return ty('KClass', [instanceOf(nonNull(on))]);
  return on.name === 'KClass' && expr.name === 'java' ? ty('Class', on.args) : undefined;
}

/** JavaScript declares no fields: what `this.name` is assigned in the class says what it is. */
function undeclaredMember(core: Core, cls: Class, name: string): Ty | undefined {
  if (cls.form !== 'class') return undefined;
  return joinAll(core.program.usesNamed(name).map((use) => {
    const assign = core.program.parentOf(use);
    const isOwn = use.kind === 'Member' && use.object.kind === 'This' && core.program.enclosingClass(use) === cls;
    return isOwn && assign?.kind === 'Assign' && assign.target === use ? core.typeOf(assign.value) : undefined;
  }));
}

/** Whether `?.` before a member makes it null; in TypeScript one anywhere in the chain does. */
export function mayBeCutShort(core: Core, expr: Member): boolean {
  if (expr.safe !== undefined) return core.typeOf(expr.object)?.nullable ?? true;
  if (core.languageAt(expr) === 'kotlin') return false;
  const { object } = expr;
  if (object.kind === 'Member') return core.mayBeCutShort(object);
  if (object.kind === 'Call') return object.safe === 'chain' || (object.callee.kind === 'Member' && core.mayBeCutShort(object.callee));
  return false;
}

function referenceType(core: Core, expr: Expr & { readonly kind: 'FnRef' }): Ty | undefined {
  const found = fnRefFound(core, expr);
  const decl = found?.decls[0];
  if (decl === undefined) return undefined;
  if (decl.is === 'fn') {
    const type = core.typeOfDecl(decl);
    return type && found?.bindings ? substitute(type, found.bindings) : type;
  }
  if (decl.is === 'class') {
    const params = decl.node.constructors[0]?.params.map((param) => core.typeOfParam(param)) ?? [];
    return funTy({ params, result: core.selfOf(decl.node) });
  }
  if (decl.is === 'platform' && decl.member?.params !== undefined) return core.memberFunction(platformTy(decl.type), decl.member);
  const value = core.typeOfDecl(decl);
  return funTy({ params: [], ...(value && { result: value }) });
}

// ---- Literals that hold values --------------------------------------------

function objectType(core: Core, expr: ObjectExpr): Ty {
  const type = classTy(expr.body, [], core.platformOf(expr.body));
  return expr.body.form === 'anonymous' ? type : metaOf(type);
}

function listType(core: Core, items: readonly Expr[]): Ty {
  const wanted = items.some((item) => item.kind === 'Unary' && item.op === '...');
  const types = items.map((item) => {
    if (item.kind !== 'Unary' || item.op !== '...') return core.typeOf(item);
    const spread = core.typeOf(item.value);
    return spread && elementOf(core, spread, core.languageAt(item));
  });
  const known = joinAll(types);
  if (wanted || items.length > 8 || items.length < 2) return listOf(known);
  return tupleOf(types.map((type) => type ?? ty('any')));
}

// ---- Operators --------------------------------------------------------------

function unaryType(core: Core, expr: Unary): Ty | undefined {
  switch (expr.op) {
    case '!!': {
      const value = core.typeOf(expr.value);
      return value && nonNull(value);
    }
    case '!':
    case 'delete':
      return BOOLEAN;
    case 'typeof': return STRING;
    case 'void': return VOID;
    case '...': return core.typeOf(expr.value);
    default: return NUMBER;
  }
}

function binaryType(core: Core, expr: Binary): Ty | undefined {
  switch (expr.op) {
    case '??': {
      const left = core.typeOf(expr.left);
      return joinAll([left && nonNull(left), core.typeOf(expr.right)]);
    }
    case '||':
    case '&&':
      return logicalType(core, expr);
    case '+':
    case '-':
      return sumType(core, expr);
    case '==': case '!=': case '<': case '<=': case '>': case '>=': case 'in':
      return BOOLEAN;
    case ',': return core.typeOf(expr.right);
    case '..':
    case '..<':
      return listOf(NUMBER);
    default: return NUMBER;
  }
}

/** In Kotlin always boolean; in TypeScript one of the two values. */
function logicalType(core: Core, expr: Binary): Ty | undefined {
  if (core.languageAt(expr) === 'kotlin') return BOOLEAN;
  const right = core.typeOf(expr.right);
  const left = core.typeOf(expr.left);
  if (expr.op === '||') return joinAll([left && nonNull(left), right]);
  return right && (left?.nullable ?? true) ? asNullable(right) : right;
}

function sumType(core: Core, expr: Binary): Ty | undefined {
  const left = core.typeOf(expr.left);
  if (left === undefined) return undefined;
  if (left.name === 'string' || core.typeOf(expr.right)?.name === 'string') return STRING;
  if (left.class === undefined && left.name !== 'any') return left.tuple === undefined ? left : listOf(left.args[0]);
  const plus = inType(core, left, expr.op === '+' ? 'plus' : 'minus', core.languageAt(expr))?.decls[0];
  return plus?.is === 'fn' ? core.resultOf(plus.node) : undefined;
}

// ---- Branches ----------------------------------------------------------------

function chosenType(core: Core, expr: Choose): Ty | undefined {
  return joinAll(armValues(expr.branch).map((value) => core.typeOf(value)));
}

/** The values that a branch or `try` in value position may yield. */
export function armValues(branch: Branch | Try): readonly Expr[] {
  const bodies = branch.kind === 'Branch' ? branch.arms.map((arm) => arm.body) : [branch.body, ...branch.catches.map((caught) => caught.body)];
  return bodies.flatMap((body) => {
    const last = body.stmts.at(-1);
    if (last?.kind === 'Yield') return [last.value];
    return last?.kind === 'Branch' || last?.kind === 'Try' ? armValues(last) : [];
  });
}

/** `yield* call(f)`: a saga's effect yields what the call of `f` settles with. */
function emitType(core: Core, value: Expr | undefined, all: boolean): Ty | undefined {
  if (value?.kind !== 'Call' || value.callee.kind !== 'Name' || !all) return undefined;
  const type = core.typeOf(value);
  return type && awaited(type);
}

/** A cast to `any` changes what the compiler checks, not what the value is. */
function castType(core: Core, expr: Expr & { readonly kind: 'Cast' }): Ty | undefined {
  const type = core.typeOfRef(expr.type, expr);
  const value = isVague(type) ? core.typeOf(expr.value) : undefined;
  const result = value ?? type;
  return result && expr.safe === true ? asNullable(result) : result;
}
