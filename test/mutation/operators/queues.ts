/** Faults of queues: an operation goes past the way that all others go. */
import type { AnyNode, Block, Call, Class, Expr, Field, Fn, Lambda } from '../../../server/ir/ir.js';
import { findAll } from '../../../server/ir/walk.js';
import type { Ground } from '../ground.js';
import { MARK, type Mutant, type Place, type Planted } from '../mutant.js';
import type { Operator } from './operator.js';

const rule = 'operation-outside-queue';

export const pastTheQueue: Operator = {
  name: 'past-the-queue', plants: 'an operation that was given to the queue is started in place', language: 'kotlin', rule,
  *plant(ground) {
    for (const call of ground.all('Call')) {
      if (!ground.isOwn(call)) continue;
      const start = directLambda(ground, call) ?? directObject(ground, call);
      if (start !== undefined) yield* inPlace(ground, call, start);
    }
  },
};

export const pastTheTail: Operator = {
  name: 'past-the-tail', plants: 'an operation that waited for its turn is started in place', language: 'typescript', rule,
  *plant(ground) {
    for (const call of tailCalls(ground)) {
      const { fn } = ground.lambdaArgument(call)!;
      const operations = operationsIn(ground, fn);
      if (operations.length === 0) continue;
      const text = isBraced(ground, fn) ? `(${ground.slice(ground.lambdaArgument(call)!)})()` : ground.slice(fn.body!);
      yield {
        edits: [ground.replace(call, text)], places: operations.map((op) => ground.nameOf(op)),
        also: fromOutside(ground, call), equivalent: opensIts(ground, fn),
      };
    }
  },
};

/** Calls of the function that lets one operation run after the other, each given an arrow function. */
export function tailCalls(ground: Ground): readonly Call[] {
  return ground.all('Call').filter((call) => {
    const { fns } = ground.resolver.calleeOf(call);
    return ground.lambdaArgument(call) !== undefined && fns.some((fn) => isTail(ground, fn));
  });
}

/** Two calls in a row of the function in which an operation is started in place now collide. */
function fromOutside(ground: Ground, call: Call): Mutant['also'] {
  return [{ rule, places: ground.waysTo(call).map((way) => ground.place(way)) }];
}

/** It hands one of its parameters to `then`. */
function isTail(ground: Ground, fn: Fn): boolean {
  const names = new Set(fn.params.map(({ name }) => name));
  return fn.body !== undefined && findAll(fn.body, 'Call').some(({ callee, args }) =>
    callee.kind === 'Member' && callee.name === 'then' && args.some(({ value }) => value.kind === 'Name' && names.has(value.name))) && ground.language === 'typescript';
}

export function operationsIn(ground: Ground, node: AnyNode): readonly Call[] {
  return findAll(node, 'Call').filter((call) => ground.occupies(call));
}

function isBraced(ground: Ground, fn: Fn): boolean {
  return ground.slice(fn.body as Block).startsWith('{');
}

function opensIts(ground: Ground, fn: Fn): string | undefined {
  const opens = findAll(fn, 'Call').some((call) => ground.memberOf(call)?.does?.includes('opens-link'));
  return opens ? 'nothing can be under way on a link before it is open' : undefined;
}

// ---- Kotlin -------------------------------------------------------------

interface Start {
  /** `{ it.start() }`, to be given the link. */
  readonly lambda: string;
  readonly places: readonly Place[];
}

/** `enqueue("…") { gatt -> gatt.read(x) }`: a lambda over the link that the called function does not run at once. */
function directLambda(ground: Ground, call: Call): Start | undefined {
  const lambda = call.args.map(({ value }) => value).find((value): value is Lambda => value.kind === 'Lambda' && isOverLink(ground, value));
  return lambda && { lambda: ground.slice(lambda), places: operationsIn(ground, lambda).map((op) => ground.nameOf(op)) };
}

function isOverLink(ground: Ground, { fn }: Lambda): boolean {
  const [param] = fn.params;
  return fn.params.length === 1 && ground.resolver.typeOfParam(param!)?.name === 'BluetoothGatt' && operationsIn(ground, fn).length > 0;
}

/** `enqueue(Operation.Read(x))`: an object with a function that starts it on the link. */
function directObject(ground: Ground, call: Call): Start | undefined {
  const [argument] = call.args;
  const cls = argument && ground.resolver.typeOf(argument.value)?.class;
  if (argument?.value.kind !== 'Call' || cls === undefined) return undefined;
  const start = startOf(ground, cls);
  return start && { lambda: `{ ${ground.slice(argument.value)}.${MARK}${start.name}(it) }`, places: operationsIn(ground, start).map((op) => ground.nameOf(op)) };
}

function startOf(ground: Ground, cls: Class): Fn | undefined {
  return cls.functions.find(({ params, body }) => params.length === 1 && params[0]!.type?.name === 'BluetoothGatt' && body !== undefined && operationsIn(ground, body).length > 0);
}

function* inPlace(ground: Ground, call: Call, { lambda, places }: Start): Iterable<Planted> {
  const link = linkField(ground, call);
  const holder = ground.parent(call);
  if (link === undefined || holder === undefined) return;
  const check = `check(${link.name}${isNullable(link) ? '?' : ''}.let ${lambda} == true)`;
  const also = fromOutside(ground, call);
  if (holder.kind === 'ExprStmt') yield { edits: [ground.replace(holder, check)], places, also };
  else if (holder.kind === 'Return' && ground.ownsLines(holder)) {
    const isBytes = ground.resolver.typeOf(call)?.name === 'bytes';
    yield { edits: [ground.replace(holder, isBytes ? `${check}\n${ground.indentOf(holder)}return ByteArray(0)` : check)], places, also };
  }
}

function isNullable(field: Field): boolean {
  return field.type?.nullable === true;
}

/** The field that holds the link where the call stands. */
function linkField(ground: Ground, at: Expr): Field | undefined {
  for (let cls = ground.program.enclosingClass(at); cls !== undefined; cls = ground.program.enclosingClass(cls)) {
    const field = cls.fields.find(({ type }) => type?.name === 'BluetoothGatt');
    if (field !== undefined) return field;
  }
  return undefined;
}
