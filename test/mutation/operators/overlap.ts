/** Faults of order: an operation is started again before the first has completed, or nothing keeps two apart. */
import type { AnyNode, Assign, Branch, Call, Expr, Fn } from '../../../server/ir/ir.js';
import { findAll } from '../../../server/ir/walk.js';
import { simpleName, type Ground } from '../ground.js';
import type { Place } from '../mutant.js';
import type { Operator } from './operator.js';
import { markedCopy, startsOf } from './results.js';

const rule = 'operation-outside-queue';

export const operationRepeated: Operator = {
  name: 'operation-repeated', plants: 'the statement that starts an operation stands twice', language: 'kotlin', rule,
  *plant(ground) {
    for (const { call, stmt, places } of startingStatements(ground)) {
      yield { edits: [ground.replace(stmt, `${ground.slice(stmt)}\n${ground.indentOf(stmt)}${markedCopy(ground, stmt, call)}`)], places, equivalent: vouchedAt(ground, call) };
    }
  },
};

export const operationDoubledInTurn: Operator = {
  name: 'operation-doubled', plants: '`start()` becomes `start() && start()` inside its turn', language: 'kotlin', rule,
  *plant(ground) {
    for (const call of operations(ground)) {
      const value = answerOf(ground, call);
      const holder = ground.parent(value);
      if (holder?.kind !== 'Return' && holder?.kind !== 'Yield') continue;
      yield { edits: [ground.replace(value, `${ground.slice(value)} && ${markedCopy(ground, value, call)}`)] };
    }
  },
};

export const operationInLoop: Operator = {
  name: 'operation-in-loop', plants: 'the statement that starts an operation runs twice in a loop', language: 'kotlin', rule,
  *plant(ground) {
    for (const { call, stmt, places } of startingStatements(ground)) {
      const indent = ground.indentOf(stmt);
      yield { edits: [ground.replace(stmt, `for (round in 1..2) {\n${indent}    ${markedCopy(ground, stmt, call)}\n${indent}}`)], places, equivalent: vouchedAt(ground, call) };
    }
  },
};

export const busyCheckDropped: Operator = {
  name: 'busy-check-dropped', plants: 'the look at the busy flag before a start is taken out', language: 'kotlin', rule,
  *plant(ground) {
    for (const branch of ground.all('Branch')) {
      const fn = ground.functionOf(branch);
      if (fn === undefined || !isBusyCheck(ground, branch, fn)) continue;
      const starts = findAll(fn, 'Call').filter((call) => ground.occupies(call) || startsOf(ground, call).length > 0);
      if (starts.length === 0) continue;
      yield {
        edits: [ground.remove(branch)], level: 'hint', equivalent: vouched(ground, fn),
        places: starts.flatMap((call) => [ground.nameOf(call), ...startsOf(ground, call)]),
      };
    }
  },
};

export const lockDropped: Operator = {
  name: 'lock-dropped', plants: 'the mutex is no longer held while the answer is awaited', language: 'kotlin', rule,
  *plant(ground) {
    for (const call of ground.all('Call')) {
      if (call.callee.kind !== 'Member' || call.callee.name !== 'withLock') continue;
      const fn = ground.functionOf(call);
      const inside = fn === undefined ? [] : [fn, ...ground.resolver.callersOf(fn)];
      yield {
        edits: [ground.replace(call.callee, 'run')], level: 'hint', equivalent: fn && vouched(ground, fn),
        places: [...inside.map((node) => ground.place(node)), ...ground.reached(call).filter((op) => ground.occupies(op)).map((op) => ground.nameOf(op))],
      };
    }
  },
};

function operations(ground: Ground): readonly Call[] {
  return ground.callsThat('starts-operation').filter(({ call, member }) => ground.occupies(call) && member.completedBy !== undefined && !member.does!.includes('opens-link'))
    .map(({ call }) => call);
}

interface Starting {
  readonly call: Call;
  readonly stmt: AnyNode;
  /** For a function of the project: the operations in it, where the rule may stand as well. */
  readonly places: readonly Place[];
}

/** Statements on lines of their own that start an operation, or test whether one was accepted. */
function* startingStatements(ground: Ground): Iterable<Starting> {
  const direct = new Set(operations(ground));
  for (const call of ground.all('Call')) {
    const places = direct.has(call) ? [] : startsOf(ground, call);
    const stmt = direct.has(call) || places.length > 0 ? ground.statementOf(call) : undefined;
    if (stmt === undefined || !ground.ownsLines(stmt)) continue;
    if (stmt.kind === 'ExprStmt' || (stmt.kind === 'Branch' && stmt.arms.length === 1 && isInTest(stmt, call))) yield { call, stmt, places };
  }
}

function isInTest(branch: Branch, call: Call): boolean {
  return call.span.end <= branch.arms[0]!.body.span.start;
}

/** The flag or the comparison that says whether a call was accepted. */
function answerOf(ground: Ground, call: Call): Expr {
  const parent = ground.parent(call);
  return parent?.kind === 'Binary' && parent.op === '==' ? parent : call;
}

/** `if (busy) return`, where the same function then makes it busy. */
function isBusyCheck(ground: Ground, branch: Branch, fn: Fn): boolean {
  const [arm, ...others] = branch.arms;
  const test = arm?.tests[0];
  if (arm === undefined || others.length > 0 || test === undefined || !('when' in test) || arm.body.stmts.at(-1)?.kind !== 'Return') return false;
  return ground.ownsLines(branch) && findAll(fn, 'Assign').some((assign: Assign) => {
    const name = simpleName(assign.target);
    return assign.span.start > branch.span.end && name !== undefined && ground.reads(test.when, name);
  });
}

function vouchedAt(ground: Ground, call: Call): string | undefined {
  const fn = ground.functionOf(call);
  return fn && vouched(ground, fn);
}

/** A profile that names the queue answers for what happens inside it. */
export function vouched(ground: Ground, fn: Fn): string | undefined {
  const owner = ground.program.ownerOf(fn)?.name;
  const named = ground.declaredQueue.find((name) => name === fn.name || name === `${owner}.${fn.name}` || name.startsWith(`${owner}.`));
  return named === undefined ? undefined : `the profile names ${named} as the queue, and so vouches for what it does inside`;
}

