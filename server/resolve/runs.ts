/**
 * Functions that run a lambda they are given, as the catalogue knows them: what the lambda is handed, and what the call
 * yields. Only for callees that are no function of the project.
 */
import { runnersOf } from '../catalogue/index.js';
import type { Passed, Runner } from '../catalogue/types.js';
import type { Argument, Call, Expr, Language } from '../ir/ir.js';
import { findAll } from '../ir/walk.js';
import type { FnTy, KnownRun, Ty } from './api.js';
import type { Core, Target } from './core.js';
import { elementOf, entryOf, levelNamed, mapOf, pairOf } from './elements.js';
import { typeOfText } from './type-text.js';
import { ANY, asNullable, awaited, BOOLEAN, funTy, join, joinAll, listOf, nonNull, NUMBER, promiseOf, ty, VOID } from './types.js';

export type Run = KnownRun;

/** How the call runs its lambdas; several when it treats them differently (`then(a, b)`). */
export function runsOf(core: Core, call: Call, target: Target): readonly Run[] {
  const name = target.name;
  if (name === undefined || target.fns.length > 0 || target.value !== undefined || target.constructs?.class !== undefined) return [];
  const language = core.languageAt(call);
  const rows = runnersOf(language, name);
  if (rows.length === 0) return [];
  const on = receiverType(core, call, target);
  const fitting = rows.filter((row) => isOn(core, row, call, on, language));
  const specific = fitting.filter((row) => row.on !== undefined && row.on !== 'nothing');
  return (specific.length > 0 ? specific : fitting).flatMap((runner) => {
    const lambdas = lambdasOf(core, call, runner);
    return lambdas.length === 0 ? [] : [{ runner, lambdas }];
  });
}

/** What the call is made on, `?.` taken off; undefined where there is nothing or nothing is known. */
function receiverType(core: Core, call: Call, target: Target): Ty | undefined {
  const { callee } = call;
  const type = callee.kind === 'Member' ? core.typeOf(callee.object) : target.receiver?.ty ?? (callee.kind === 'Name' ? core.thisAt(call) : undefined);
  return callee.kind === 'Member' && callee.safe !== undefined && type !== undefined ? nonNull(type) : type;
}

function isOn(core: Core, row: Runner, call: Call, on: Ty | undefined, language: Language): boolean {
  if (row.on === undefined) return true;
  if (row.on === 'nothing') return call.callee.kind === 'Name';
  if (on === undefined) return false;
  const wanted = row.on;
  return (on.union ?? [on]).some((member) => levelNamed(core, member, wanted, language) !== undefined || member.name === wanted);
}

function lambdasOf(core: Core, call: Call, runner: Runner): readonly Argument[] {
  if (runner.lambda === 'every') return call.args.filter((argument) => isFunction(core, argument.value));
  const argument = runner.lambda === 'last' ? call.args.at(-1) : call.args.filter((each) => each.name === undefined)[runner.lambda];
  return argument === undefined || argument.spread === true ? [] : [argument];
}

function isFunction(core: Core, expr: Expr): boolean {
  return expr.kind === 'Lambda' || expr.kind === 'FnRef' || core.typeOf(expr)?.fn !== undefined;
}

// ---- What the lambda is handed ---------------------------------------------

/** The function type that a runner's lambda has. */
export function lambdaShape(core: Core, call: Call, target: Target, run: Run): FnTy {
  const on = receiverType(core, call, target);
  const pass = (what: Passed): Ty | undefined => passed(core, call, target, run, what, on);
  const self = run.runner.self && (pass(run.runner.self) ?? ty('scope'));
  return {
    params: (run.runner.passes ?? []).map(pass),
    ...(self && !(run.runner.self === 'receiver' && call.callee.kind === 'Name') && { receiver: self }),
  };
}

function passed(core: Core, call: Call, target: Target, run: Run, what: Passed, on: Ty | undefined): Ty | undefined {
  const language = core.languageAt(call);
  switch (what) {
    case 'receiver': return on;
    case 'first-argument': return call.args[0] && core.typeOf(call.args[0].value);
    case 'element': return on && (elementOf(core, on, language) ?? held(on));
    case 'entry': return on && mapLevel(core, on, language, (map) => entryOf(map, language));
    case 'key': return on && mapLevel(core, on, language, (map) => map.args[0]);
    case 'value': return on && mapLevel(core, on, language, (map) => map.args[1]);
    case 'index': return NUMBER;
    case 'accumulator': return accumulatorOf(core, call, on, language);
    case 'settled-value': return on && (on.name === 'Result' ? on.args[0] : awaited(nonNull(on)) === nonNull(on) ? undefined : awaited(nonNull(on)));
    case 'error': return language === 'kotlin' ? typeOfText('kotlin', 'Throwable') : undefined;
    case 'scope': return typeOfText('kotlin', 'CoroutineScope');
    case 'continuation': return continuationOf(core, call, target);
    case 'resolve': return funTy({ params: [resumedType(core, call)], result: VOID });
    case 'reject': return funTy({ params: [ANY], result: VOID });
    case 'event': return eventOf(call, on, run);
    default: return undefined;
  }
}

/** The initial value (Kotlin writes it first, TypeScript last); without one, an element. */
function accumulatorOf(core: Core, call: Call, on: Ty | undefined, language: Language): Ty | undefined {
  const initial = call.args.length > 1 ? call.args[language === 'kotlin' ? 0 : 1] : undefined;
  return initial === undefined ? on && elementOf(core, on, language) : core.typeOf(initial.value);
}

function mapLevel(core: Core, on: Ty, language: Language, pick: (map: Ty) => Ty | undefined): Ty | undefined {
  const map = levelNamed(core, on, 'map', language);
  return map && pick(map);
}

/** The value inside a state holder (`update`, `observe`). */
function held(on: Ty): Ty | undefined {
  return on.class === undefined ? on.args[0] : undefined;
}

function continuationOf(core: Core, call: Call, target: Target): Ty {
  const name = target.name === 'suspendCoroutine' ? 'Continuation' : 'CancellableContinuation';
  return { ...typeOfText('kotlin', name), args: [resumedType(core, call) ?? ANY] };
}

/** What the caller is resumed with: as written, or as the place wants it. */
function resumedType(core: Core, call: Call): Ty | undefined {
  const [written] = call.typeArgs;
  if (written !== undefined) return core.typeOfRef(written, call);
  const wanted = core.expectedType(call);
  if (wanted === undefined) return undefined;
  return call.construct === true ? (wanted.name === 'Promise' ? wanted.args[0] : undefined) : wanted;
}

/** An event's target is what the listener was added to. */
function eventOf(call: Call, on: Ty | undefined, run: Run): Ty {
  const named = run.lambdas.length > 0 && call.args[0]?.value.kind === 'Literal' ? call.args[0].value.value : undefined;
  const base = typeOfText('typescript', named === 'advertisementreceived' ? 'BluetoothAdvertisingEvent' : 'Event');
  return on === undefined ? base : { ...base, args: [nonNull(on)] };
}

// ---- What the call yields -----------------------------------------------------

export function yielded(core: Core, call: Call, target: Target, runs: readonly Run[]): Ty | undefined {
  return joinAll(runs.map((run) => yieldOf(core, call, target, run)));
}

function yieldOf(core: Core, call: Call, target: Target, run: Run): Ty | undefined {
  const { runner } = run;
  const language = core.languageAt(call);
  const on = receiverType(core, call, target);
  const value = (): Ty | undefined => joinAll(run.lambdas.map((argument) => lambdaValue(core, argument.value)));
  const special = collectionOf(core, runner.name, on, value, language);
  if (special !== undefined) return special;
  if (runner.result !== undefined) return heldBy(core, call, run, typeOfText(language, runner.result));
  switch (runner.yields) {
    case 'lambda': return value();
    case 'lambda-or-null': return nullable(value());
    case 'receiver': return on;
    case 'receiver-or-null': return nullable(on);
    case 'first-argument': return call.args[0] && core.typeOf(call.args[0].value);
    case 'element': return on && elementOf(core, on, language);
    case 'element-or-null': return nullable(on && elementOf(core, on, language));
    case 'list-of-lambda': return listOf(runner.name.startsWith('mapNotNull') ? bare(value()) : value());
    case 'promise-of-lambda': return promiseOf(joinAll([settled(value()), runner.name === 'catch' && on ? awaited(nonNull(on)) : undefined]));
    case 'deferred': return { ...typeOfText('kotlin', 'Deferred'), args: [value() ?? ANY] };
    case 'result-of-lambda': return { ...typeOfText('kotlin', 'Result'), args: [value() ?? ANY] };
    case 'resumed': return resumed(core, call, run);
    case 'receiver-of-lambda': return on && { ...nonNull(on), args: [flattened(runner.name, value()) ?? ANY] };
    case 'job': return typeOfText('kotlin', 'Job');
    case 'boolean': return BOOLEAN;
    case 'number': return NUMBER;
    case 'void': return VOID;
    default: return undefined;
  }
}

function nullable(type: Ty | undefined): Ty | undefined {
  return type && asNullable(type);
}

function bare(type: Ty | undefined): Ty | undefined {
  return type && nonNull(type);
}

function settled(type: Ty | undefined): Ty | undefined {
  return type && awaited(type);
}

/** `flatMapLatest { flow }` yields what the inner flow holds. */
function flattened(name: string, value: Ty | undefined): Ty | undefined {
  if (name.startsWith('flatMap')) return value?.args[0];
  return name === 'mapNotNull' ? bare(value) : value;
}

/** The value of a function argument when it is run. */
function lambdaValue(core: Core, expr: Expr): Ty | undefined {
  if (expr.kind === 'Lambda') return core.resultOf(expr.fn);
  return core.typeOf(expr)?.fn?.result;
}

/** `new Promise(…)` and `suspendCoroutine { }`: the written type, the wanted one, or what the lambda resumes with. */
function resumed(core: Core, call: Call, run: Run): Ty | undefined {
  const type = resumedType(core, call) ?? passedOn(core, run);
  return call.construct === true ? promiseOf(type && awaited(type)) : type;
}

/** What the lambda itself hands to its first parameter: `resolve(value)`, `continuation.resume(value)`. */
function passedOn(core: Core, run: Run): Ty | undefined {
  const lambda = run.lambdas[0]?.value;
  const param = lambda?.kind === 'Lambda' ? lambda.fn.params[0] : undefined;
  if (lambda?.kind !== 'Lambda' || param === undefined) return undefined;
  return joinAll(core.readsOf(core.paramDecl(param, lambda.fn)).map((read) => {
    const parent = core.program.parentOf(read);
    const call = parent?.kind === 'Member' && parent.name === 'resume' ? core.program.parentOf(parent) : parent;
    const isCalled = call?.kind === 'Call' && (call.callee === read || call.callee === parent);
    const argument = isCalled ? call.args[0] : undefined;
    return argument && core.typeOf(argument.value);
  }));
}

/** `callbackFlow<T> { }` and its like hold what is written, what the place wants, or what the lambda sends. */
function heldBy(core: Core, call: Call, run: Run, type: Ty): Ty {
  if (type.args.length !== 1 || type.args[0]!.name !== 'any') return type;
  const written = call.typeArgs[0] && core.typeOfRef(call.typeArgs[0], call);
  const wanted = core.expectedType(call);
  const held = written ?? (wanted?.name === type.name ? wanted.args[0] : undefined) ?? sentIn(core, run);
  return held === undefined ? type : { ...type, args: [held] };
}

const SENDS = new Set(['emit', 'send', 'trySend', 'trySendBlocking', 'offer', 'yield']);

function sentIn(core: Core, run: Run): Ty | undefined {
  const lambda = run.lambdas[0]?.value;
  if (lambda?.kind !== 'Lambda') return undefined;
  const sent = findAll(lambda.fn, 'Call').flatMap(({ callee, args }) => {
    const isOwn = callee.kind === 'Name' || (callee.kind === 'Member' && callee.object.kind === 'This');
    return isOwn && SENDS.has(callee.name) && args[0] !== undefined ? [args[0].value] : [];
  });
  return joinAll(sent.map((value) => core.typeOf(value)));
}

/** Functions that build collections keyed or grouped by what the lambda yields. */
function collectionOf(core: Core, name: string, on: Ty | undefined, value: () => Ty | undefined, language: Language): Ty | undefined {
  if (language !== 'kotlin' || on === undefined) return undefined;
  const element = (): Ty | undefined => elementOf(core, on, language);
  const map = (): Ty | undefined => levelNamed(core, on, 'map', language);
  switch (name) {
    case 'associateBy': return mapOf(value(), element());
    case 'associateWith': return mapOf(element(), value());
    case 'associate': {
      const pair = value();
      return mapOf(pair?.args[0], pair?.args[1]);
    }
    case 'groupBy': return mapOf(value(), listOf(element()));
    case 'partition': return pairOf(listOf(element()), listOf(element()));
    case 'mapValues': return mapOf(map()?.args[0], value());
    case 'mapKeys': return mapOf(value(), map()?.args[1]);
    case 'reduce': return join(element(), value());
    default: return undefined;
  }
}
