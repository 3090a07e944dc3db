/** Faults of links: what is opened is not given back, or not on every way. */
import type { AnyNode, Assign, Call, Fn, Stmt } from '../../../server/ir/ir.js';
import { findAll } from '../../../server/ir/walk.js';
import type { Ground } from '../ground.js';
import { MARK, type Edit, type Place } from '../mutant.js';
import type { Operator } from './operator.js';
import { markedCopy } from './results.js';

const rule = 'link-not-closed';

export const linkDropped: Operator = {
  name: 'link-dropped', plants: 'the link is not kept', language: 'kotlin', rule,
  *plant(ground) {
    for (const assign of ground.all('Assign') as Assign[]) {
      const opens = findAll(assign.value, 'Call').filter((call) => ground.memberOf(call)?.does?.includes('opens-link'));
      if (opens.length > 0) yield { edits: [ground.replace(assign, ground.slice(assign.value))], places: opens.map((call) => ground.nameOf(call)) };
    }
  },
};

export const connectInLoop: Operator = {
  name: 'connect-in-loop', plants: 'three attempts, of which only the last is kept', language: 'kotlin', rule,
  *plant(ground) {
    for (const { call } of ground.callsThat('opens-link')) {
      const stmt = ground.statementOf(call);
      if (stmt === undefined || (stmt.kind !== 'Assign' && stmt.kind !== 'ExprStmt') || !ground.ownsLines(stmt)) continue;
      const indent = ground.indentOf(stmt);
      yield { edits: [ground.replace(stmt, `for (attempt in 1..3) {\n${indent}    ${markedCopy(ground, stmt, call)}\n${indent}}`)] };
    }
  },
};

export const closeDropped: Operator = {
  name: 'close-dropped', plants: 'one close, or one disconnect of a page, is taken out', language: 'both', rule,
  *plant(ground) {
    for (const call of closes(ground)) {
      yield { edits: [removed(ground, call)], places: opened(ground), equivalent: stillClosed(ground, [call]) };
    }
  },
};

export const allClosesDropped: Operator = {
  name: 'closes-dropped', plants: 'every close of a class is taken out', language: 'both', rule,
  *plant(ground) {
    for (const calls of byClass(ground, closes(ground))) {
      if (calls.length > 1) yield { edits: calls.map((call) => removed(ground, call)), places: opened(ground), equivalent: stillClosed(ground, calls) };
    }
  },
};

export const closeIsDisconnect: Operator = {
  name: 'close-is-disconnect', plants: '`disconnect()` in place of every `close()`', language: 'kotlin', rule,
  *plant(ground) {
    for (const calls of byClass(ground, closes(ground))) {
      const edits = calls.flatMap(({ callee }): Edit[] => (callee.kind === 'Member' ? [{ path: ground.pathOf(callee), at: callee.nameSpan, text: `${MARK}disconnect` }] : []));
      yield { edits, places: opened(ground), equivalent: stillClosed(ground, calls) };
    }
  },
};

export const teardownDropped: Operator = {
  name: 'teardown-dropped', plants: 'what ends the screen, the service or the component no longer ends the link', language: 'both', rule,
  *plant(ground) {
    for (const stmt of teardowns(ground)) {
      yield { edits: [ground.remove(stmt)], places: opened(ground), equivalent: closedElsewhere(ground, stmt) };
    }
  },
};

// ---- Finding them -------------------------------------------------------

function closes(ground: Ground): readonly Call[] {
  return ground.callsThat('closes-link').map(({ call }) => call).filter((call) => ground.statementOf(call) !== undefined);
}

function opened(ground: Ground): readonly Place[] {
  return ground.callsThat('opens-link').map(({ call }) => ground.nameOf(call));
}

function byClass(ground: Ground, calls: readonly Call[]): readonly (readonly Call[])[] {
  const groups = new Map<unknown, Call[]>();
  for (const call of calls) {
    const owner = outermost(ground, call);
    groups.set(owner, [...(groups.get(owner) ?? []), call]);
  }
  return [...groups.values()];
}

/** The outermost class around a node, or its file. */
function outermost(ground: Ground, node: AnyNode): AnyNode | undefined {
  let found: AnyNode | undefined = ground.program.fileOf(node);
  for (let cls = ground.program.enclosingClass(node); cls !== undefined; cls = ground.program.enclosingClass(cls)) found = cls;
  return found;
}

/** A statement of its own goes with its line; elsewhere something harmless stands in its place. */
function removed(ground: Ground, call: Call): Edit {
  const stmt = ground.statementOf(call)!;
  if (stmt.kind === 'ExprStmt' && ground.ownsLines(stmt)) return ground.remove(stmt);
  return ground.replace(stmt.kind === 'ExprStmt' ? stmt : call, ground.language === 'kotlin' ? 'Unit' : 'undefined');
}

/** Statements in teardown functions, and functions that a component's effect returns, that end a link. */
function* teardowns(ground: Ground): Iterable<Stmt> {
  for (const fn of ground.all('Fn')) {
    if (!isTeardown(ground, fn)) continue;
    for (const stmt of fn.body?.stmts ?? []) if (ground.reaches(stmt, 'closes-link')) yield stmt;
  }
  for (const call of ground.all('Call')) {
    const name = call.callee.kind === 'Name' || call.callee.kind === 'Member' ? call.callee.name : undefined;
    if (name === 'useEffect') yield* ending(ground, ground.lambdaArgument(call)?.fn.body?.stmts.at(-1));
    if (name === 'addEventListener' && ground.slice(call).includes("'pagehide'")) yield* ending(ground, ground.statementOf(call));
  }
}

function* ending(ground: Ground, stmt: Stmt | undefined): Iterable<Stmt> {
  if (stmt === undefined || !ground.ownsLines(stmt)) return;
  const isRegistered = stmt.kind === 'ExprStmt' && ground.files[0]!.language === 'typescript';
  if (isRegistered || ground.reaches(stmt, 'closes-link')) yield stmt;
}

const TEARDOWN = /^(onDestroy|onCleared|onStop|clear)$/;

function isTeardown(ground: Ground, fn: Fn): boolean {
  return ground.language === 'kotlin' && fn.name !== undefined && TEARDOWN.test(fn.name) && fn.modifiers.has('override');
}

// ---- What is no fault ---------------------------------------------------

/** A close outside of these that is run when the link was lost and when its owner ends. */
function stillClosed(ground: Ground, without: readonly Call[]): string | undefined {
  const left = closes(ground).filter((call) => !without.includes(call) && outermost(ground, call) === outermost(ground, without[0]!));
  if (ground.language === 'typescript') {
    // A page's device keeps its `gatt` whatever became of the connection.
    return left.some((call) => /\bdevice\.gatt\b/.test(receiverOf(ground, call))) ? 'the device itself is disconnected by another way' : undefined;
  }
  const isForgotten = without.some((call) => forgets(ground, call));
  return !isForgotten && left.some((call) => isField(ground, call)) ? 'the field still holds the link, and another close of the field remains' : undefined;
}

function receiverOf(ground: Ground, { callee }: Call): string {
  return callee.kind === 'Member' ? ground.slice(callee.object) : '';
}

/** The function around the close puts something else, or nothing, where the link was kept. */
function forgets(ground: Ground, call: Call): boolean {
  const fn = ground.functionOf(call);
  return fn !== undefined && findAll(fn, 'Assign').some(({ target }) => ground.resolver.typeOf(target)?.name === 'BluetoothGatt');
}

function isField(ground: Ground, { callee }: Call): boolean {
  return callee.kind === 'Member' && (callee.object.kind === 'Name' || callee.object.kind === 'Member') && ground.resolver.declOf(callee.object)?.is === 'field';
}

/** The link is given back all the same: when it is lost, or before the next one is opened. */
function closedElsewhere(ground: Ground, stmt: Stmt): string | undefined {
  const spared = new Set(findAll(stmt, 'Call'));
  const others = ground.all('Call').filter((call) => !spared.has(call) && ground.isOwn(call) && ground.reaches(call, 'closes-link'));
  const isBeforeNext = others.some((call) => {
    const fn = ground.functionOf(call);
    return fn !== undefined && ground.reached(fn).some((op) => ground.memberOf(op)!.does?.includes('opens-link') === true);
  });
  return isBeforeNext ? 'the link is still closed before the next one is opened' : undefined;
}

