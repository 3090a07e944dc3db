/** Faults of failures: a rejection that was caught reaches nobody any more. TypeScript. */
import type { AnyNode, Call, Try } from '../../../server/ir/ir.js';
import { findAll } from '../../../server/ir/walk.js';
import type { Ground } from '../ground.js';
import type { Planted } from '../mutant.js';
import type { Operator } from './operator.js';
import { startsOperation } from './promises.js';

export const catchDropped: Operator = {
  name: 'catch-dropped', plants: 'a `try` around operations loses its `catch`', language: 'typescript', rule: 'status-unchecked',
  *plant(ground) {
    for (const node of ground.all('Try')) {
      const calls = rejecting(ground, node);
      if (calls.length === 0 || node.catches.length === 0 || rethrows(node)) continue;
      const body = ground.slice(node.body);
      const text = node.last === undefined ? ground.inside(node.body) : `try ${body} finally ${ground.slice(node.last)}`;
      const fn = ground.functionsAround(node)[0];
      const arrivals = fn === undefined ? [] : ground.resolver.callersOf(fn);
      yield {
        edits: [ground.replace(node, text)], places: [...calls, ...arrivals].map((call) => ground.place(call)),
        equivalent: arrivals.length > 0 && arrivals.every((call) => isThrownAway(ground, call)) ? 'every caller throws the promise away on purpose, with `void`' : undefined,
      };
    }
  },
};

export const cleanupDropped: Operator = {
  name: 'cleanup-dropped', plants: 'a `catch` that gives the link back and throws on is taken out', language: 'typescript', rule: 'link-not-closed',
  *plant(ground) {
    for (const node of ground.all('Try')) {
      const [caught] = node.catches;
      if (caught === undefined || !rethrows(node) || !ground.reaches(caught.body, 'closes-link')) continue;
      yield {
        edits: [ground.replace(node, ground.inside(node.body))],
        places: ground.callsThat('opens-link').map(({ call }) => ground.nameOf(call)), equivalent: endedByItsDevice(ground, node),
      };
    }
  },
};

export const rejectionPathDropped: Operator = {
  name: 'rejection-path-dropped', plants: 'a chain loses its path for failures', language: 'typescript', rule: 'status-unchecked',
  *plant(ground) {
    for (const call of ground.all('Call')) {
      if (call.callee.kind !== 'Member' || !isLast(ground, call)) continue;
      const { name, object } = call.callee;
      const [first, second] = call.args;
      if (name === 'catch') yield* unhandled(ground, call, ground.slice(object), object);
      else if (name === 'then' && second !== undefined) yield* unhandled(ground, call, `${ground.slice(call.callee)}(${ground.slice(first!.value)})`, call);
    }
  },
};

function* unhandled(ground: Ground, call: Call, text: string, left: AnyNode): Iterable<Planted> {
  if (!findAll(call, 'Call').some((one) => startsOperation(ground, one))) return;
  // A chain with one path is an outcome that is not looked at; without any, a promise that nobody takes.
  const isChain = left.kind === 'Call' && left.callee.kind === 'Member' && left.callee.name === 'then';
  yield { edits: [ground.replace(call, text)], places: [ground.place(call)], rule: isChain ? 'status-unchecked' : 'start-result-unchecked' };
}

/** The end of a chain that is a statement, or the whole of an arrow function that nobody awaits. */
function isLast(ground: Ground, call: Call): boolean {
  const holder = ground.parent(call);
  return holder?.kind === 'ExprStmt';
}

function rejecting(ground: Ground, node: Try): readonly Call[] {
  return findAll(node.body, 'Await').flatMap(({ value }) => findAll(value, 'Call')).filter((call) => startsOperation(ground, call) || asks(ground, call));
}

/** A platform promise that is no operation on a link, as that of the chooser; or a function that comes to one. */
function asks(ground: Ground, call: Call): boolean {
  return [call, ...ground.reached(call)].some((one) => ground.memberOf(one)?.answer === 'promise');
}

function rethrows(node: Try): boolean {
  return node.catches.some(({ body }) => findAll(body, 'Throw').length > 0);
}

function isThrownAway(ground: Ground, call: Call): boolean {
  const holder = ground.parent(call);
  return (holder?.kind === 'ExprStmt' && holder.deliberate === true) || /^void /.test(holder === undefined ? '' : ground.slice(holder));
}

/** The class disconnects the device itself, whatever became of this attempt. */
function endedByItsDevice(ground: Ground, node: AnyNode): string | undefined {
  const cls = ground.program.enclosingClass(node);
  const ends = cls !== undefined && findAll(cls, 'Call').some((call) =>
    ground.memberOf(call)?.does?.includes('closes-link') && call.callee.kind === 'Member' && /\bdevice\.gatt\b/.test(ground.slice(call.callee.object)));
  return ends ? 'the class disconnects the device itself when it ends, whatever became of this attempt' : undefined;
}
