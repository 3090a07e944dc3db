/**
 * Puts the room together: `link` joins files into a program, `resolver` answers questions about it.
 *
 * Every answer is computed when it is first asked for and then kept. Nothing here reads a disk, a clock or a compiler.
 */
import type { Class, Fn, Language } from '../ir/ir.js';
import type { Resolver, Ty } from './api.js';
import { argumentFor } from './arguments.js';
import { wantedOf } from './call-types.js';
import { callersOf, escapes, referencesTo } from './callers.js';
import { targetOf } from './calls.js';
import type { Core, Found } from './core.js';
import { declFor, memberDecl, paramDecl } from './decls.js';
import { lambdaType, memberFunction, resultOfFn, typeOfDeclared, typeOfFieldNode, typeOfParam } from './declared.js';
import { expectedType, functionTypeOf } from './expected.js';
import { calleeOf, functionsHeld, functionValue, implementationsOf, overriddenBy, platformCallback, subclassesOf } from './functions.js';
import { mayBeCutShort, typeOfExpr } from './infer.js';
import { inType } from './members.js';
import { Memo, NamedTable, type Table } from './memo.js';
import { pathText } from './narrow.js';
import { declOf, nameReference, receiverOf, referenceOf, thisAt, typeOfReference } from './names.js';
import type { Linked } from './program.js';
import { constantsOf } from './constants/index.js';
import { runsOf } from './runs.js';
import { sameObject } from './same.js';
import { platformOf, selfOf, superclassesOf, superRefsOf, supertypesOf, typeNamed, typeOfRef } from './type-refs.js';
import { show } from './types.js';
import { argumentsFor, assignsPath, readsOf, valuesOf, writesTo } from './uses.js';

export type * from './api.js';
export { link } from './program.js';
export { show };

/**
 * @param before the resolver of a program most of whose files are the same. Where its answers can be taken over, it is the
 *   resolver of the new program from now on, and no longer that of the old one.
 */
export function resolver(program: Linked, before?: Resolver): Resolver {
  const core = before as Core | undefined;
  if (core === undefined || !program.takesOver(core.program)) return makeCore(program);
  core.program = program;
  return core;
}

/** Wraps a question so that it is answered once for each thing it is asked about. */
function kept<K extends object, V>(memo: Memo, answer: (key: K) => V | undefined): (key: K) => V | undefined {
  const table: Table<V> = memo.table();
  return (key) => memo.once(table, key, () => answer(key));
}

function makeCore(program: Linked): Core {
  const memo = new Memo(program.reading);
  const keep = <K extends object, V>(answer: (key: K) => V | undefined): ((key: K) => V | undefined) => kept(memo, answer);
  const list = <K extends object, V>(answer: (key: K) => readonly V[]): ((key: K) => readonly V[]) => {
    const asked = keep<K, readonly V[]>(answer);
    return (key) => asked(key) ?? [];
  };
  const typeRefs: Table<Ty> = memo.table();
  const fileNames = new NamedTable<readonly Found[]>(memo);
  const classNames = new NamedTable<Found>(memo);
  const core: Core = {
    program,
    memo,
    languageAt: (node): Language => core.program.fileOf(node)?.language ?? 'kotlin',
    typeOf: keep((expr) => typeOfExpr(core, expr)),
    typeOfRef: (ref, at) => memo.once(typeRefs, ref, () => typeOfRef(core, ref, at)),
    typeOfParam: keep((param) => typeOfParam(core, param)),
    typeOfField: keep((field) => typeOfFieldNode(core, field)),
    typeOfDecl: keep((decl) => typeOfDeclared(core, decl)),
    resultOf: keep((fn) => resultOfFn(core, fn)),
    thisAt: (node, label) => thisAt(core, node, label),
    declOf: (expr) => declOf(core, expr),
    declFor: (node, binding) => declFor(core.program, node, binding),
    referenceOf: keep((expr) => referenceOf(core, expr)),
    valueNamed: (name, at) => {
      const reference = nameReference(core, name, at);
      return reference && typeOfReference(core, reference);
    },
    typeNamed: (name, args, at) => typeNamed(core, name, args, at),
    supertypesOf: (type) => supertypesOf(core, type),
    superRefsOf: list((cls) => superRefsOf(core, cls)),
    selfOf: (cls) => selves(cls) ?? selfOf(core, cls),
    fileNames: (file, name, compute) => fileNames.once(file, name, compute) ?? [],
    classNames: (cls, name, compute) => classNames.once(cls, name, compute),
    platformOf: keep((cls) => platformOf(core, cls)),
    superclassesOf: list((cls) => superclassesOf(core, cls)),
    subclassesOf: list((cls) => subclassesOf(core, cls)),
    receiverOf: keep((fn) => receiverOf(core, fn)),
    expectedType: keep((expr) => expectedType(core, expr)),
    wantedOf: (call, argument) => wantedOf(core, call, argument),
    functionTypeOf: (type) => functionTypeOf(core, type),
    memberFunction: (owner, member) => memberFunction(owner, member),
    memberOf: (type, name, language) => inType(core, type, name, language),
    lambdaType: keep((lambda) => lambdaType(core, lambda)),
    mayBeCutShort: (member) => mayBeCutShort(core, member),
    targetOf: (call) => targets(call) ?? { fns: [], members: [] },
    calleeOf: (call) => callees(call) ?? { fns: [], members: [], complete: false },
    runnersAt: list((call) => runsOf(core, call, core.targetOf(call))),
    handsBack: (call) => runsOf(core, call, core.targetOf(call)).some((run) => run.runner.yields === 'first-argument'),
    escapes: (fn) => escaping(fn) ?? true,
    callersOf: list((fn) => callersOf(core, fn)),
    referencesTo: list((fn) => referencesTo(core, fn)),
    argumentFor,
    argumentsFor: keep((param) => argumentsFor(core, param)),
    functionValue: keep((expr) => functionValue(core, expr)),
    wantedFunction: (expr) => {
      const wanted = core.expectedType(expr);
      return wanted && core.functionTypeOf(wanted)?.fn;
    },
    functionsHeld: keep((decl) => functionsHeld(core, decl)),
    implementationsOf: list((fn) => implementationsOf(core, fn)),
    overriddenBy: list((fn) => overriddenBy(core, fn)),
    isPlatformCallback: keep((fn) => platformCallback(core, fn)),
    writesTo: list((decl) => writesTo(core, decl)),
    readsOf: list((decl) => readsOf(core, decl)),
    valuesOf: keep((decl) => valuesOf(core, decl)),
    assignsPath: (node, path) => assignsPath(node, path, pathText),
    paramDecl: (param, fn) => paramDecl(core.program, param, fn, param.name),
    fieldDecl: (field) => memberDecl(core.program, field),
    fnDecl: (fn) => memberDecl(core.program, fn),
    get constants() {
      return (constants ??= constantsOf(core));
    },
    sameObject: (a, b) => sameObject(core, a, b),
  };
  const escaping = keep((fn: Fn) => escapes(core, fn));
  const selves = keep((cls: Class) => selfOf(core, cls));
  const targets = keep((call: Parameters<typeof core.targetOf>[0]) => targetOf(core, call));
  const callees = keep((call: Parameters<typeof core.calleeOf>[0]) => calleeOf(core, call));
  let constants: Resolver['constants'] | undefined;
  return core;
}
