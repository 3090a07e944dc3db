/** Faults of promises: nobody waits, nobody catches, or several run at once. TypeScript. */
import type { AnyNode, Await, Call, Expr, Fn, Let, Loop } from '../../../server/ir/ir.js';
import { findAll } from '../../../server/ir/walk.js';
import type { Ground } from '../ground.js';
import type { Place, Planted } from '../mutant.js';
import type { Operator } from './operator.js';
import { operationsIn, tailCalls } from './queues.js';

export const awaitDropped: Operator = {
  name: 'await-dropped', plants: '`await` is taken out in front of an operation', language: 'typescript', rule: 'start-result-unchecked',
  *plant(ground) {
    for (const stmt of ground.all('ExprStmt')) {
      if (stmt.expr.kind !== 'Await' || stmt.expr.value.kind !== 'Call' || !startsOperation(ground, stmt.expr.value)) continue;
      yield {
        edits: [ground.replace(stmt.expr, ground.slice(stmt.expr.value))], places: [...placesOf(ground, stmt.expr.value)],
        also: [{ rule: 'operation-outside-queue', places: laterIn(ground, stmt) }],
        equivalent: neverRejects(ground, stmt.expr.value),
      };
    }
  },
};

export const arrowBraced: Operator = {
  name: 'arrow-braced', plants: '`() => start()` becomes `() => { start(); }`', language: 'typescript', rule: 'start-result-unchecked',
  *plant(ground) {
    for (const { call, body } of [...tailCalls(ground), ...thenCalls(ground)].flatMap(bodyOf)) {
      if (!startsOperation(ground, call)) continue;
      yield { edits: [ground.replace(body, `{ ${ground.slice(body)}; }`)], places: placesOf(ground, call), also: [{ rule: 'operation-outside-queue', places: laterIn(ground, body) }] };
    }
  },
};

export const promiseAll: Operator = {
  name: 'promise-all', plants: '`Promise.all` in place of one after the other', language: 'typescript', rule: 'operation-outside-queue',
  *plant(ground) {
    for (const loop of ground.all('Loop')) {
      const round = roundOf(ground, loop);
      if (round === undefined) continue;
      const { source, names, body } = round;
      const list = /\.(?:entries|keys)\(\)$/.test(source) ? `[...${source}]` : source;
      yield { edits: [ground.replace(loop, `await Promise.all(${list}.map(async (${names}) => ${body}));`)], places: round.places, equivalent: round.equivalent };
    }
    yield* pairs(ground);
  },
};

export const forEachAsync: Operator = {
  name: 'for-each-async', plants: '`forEach(async …)` in place of a loop', language: 'typescript', rule: 'operation-outside-queue',
  *plant(ground) {
    for (const loop of ground.all('Loop')) {
      const round = roundOf(ground, loop);
      if (round === undefined || /\.(?:entries|keys)\(\)$/.test(round.source)) continue;
      const { source, names, body, places } = round;
      // Where each waits for its turn they do not collide, but still nobody hears of a failure.
      const [rule, other] = round.equivalent === undefined ? [this.rule, 'status-unchecked'] as const : ['status-unchecked', 'start-result-unchecked'] as const;
      yield { edits: [ground.replace(loop, `${source}.forEach(async (${names}) => ${body});`)], rule, places, also: [{ rule: other, places }] };
    }
  },
};

// ---- Which calls --------------------------------------------------------

/** A platform operation, or a function of the project that yields a promise and comes to one. */
export function startsOperation(ground: Ground, call: Call): boolean {
  if (ground.memberOf(call) !== undefined) return ground.memberOf(call)!.does?.includes('starts-operation') === true;
  return ground.resolver.typeOf(call)?.name === 'Promise' && ground.reaches(call, 'starts-operation');
}

/** The lines of a call, and for one of the project the operations in it. */
export function placesOf(ground: Ground, call: Call): readonly Place[] {
  return [ground.place(call), ...operationsIn(ground, call).map((op) => ground.nameOf(op))];
}

/** What runs in the same function after a node, or in what is given to the same turn. */
function laterIn(ground: Ground, node: AnyNode): readonly Place[] {
  const fn = ground.functionsAround(node)[0];
  return fn === undefined ? [] : [{ path: ground.pathOf(node), at: { start: node.span.start, end: fn.span.end } }];
}

function neverRejects(ground: Ground, call: Call): string | undefined {
  const fns = ground.isOwn(call) ? ground.resolver.calleeOf(call).fns : [];
  const isCaught = (fn: Fn): boolean => fn.body?.stmts.length === 1 && fn.body.stmts[0]!.kind === 'Try' && fn.body.stmts[0].catches.length > 0 && findAll(fn.body.stmts[0].catches[0]!.body, 'Throw').length === 0;
  return fns.length > 0 && fns.every(isCaught) ? 'what it called catches everything itself' : undefined;
}

// ---- Arrows -------------------------------------------------------------

function thenCalls(ground: Ground): readonly Call[] {
  return ground.all('Call').filter(({ callee }) => callee.kind === 'Member' && callee.name === 'then');
}

/** The call that is the whole body of an arrow function without braces. */
function bodyOf(call: Call): readonly { readonly call: Call; readonly body: Expr }[] {
  return call.args.flatMap(({ value }) => {
    const last = value.kind === 'Lambda' ? value.fn.body?.stmts.at(-1) : undefined;
    if (last?.kind !== 'Return' || !last.implicit || last.value?.kind !== 'Call') return [];
    return [{ call: last.value, body: last.value }];
  });
}

// ---- At once ------------------------------------------------------------

interface Round {
  readonly source: string;
  readonly names: string;
  readonly body: string;
  readonly places: readonly Place[];
  readonly equivalent: string | undefined;
}

/** A `for … of` loop over operations that are awaited one by one. */
function roundOf(ground: Ground, loop: Loop): Round | undefined {
  if (loop.over === undefined || ground.language !== 'typescript') return undefined;
  const calls = findAll(loop.body, 'Await').flatMap(({ value }: Await) => (value.kind === 'Call' && startsOperation(ground, value) ? [value] : []));
  if (calls.length === 0) return undefined;
  const text = ground.slice(loop);
  const names = /^for \((?:const|let) (.+?) of /.exec(text)?.[1];
  if (names === undefined) return undefined;
  const body = ground.slice(loop.body);
  return {
    source: ground.slice(loop.over.source), names, body: body.startsWith('{') ? body : `{ ${body} }`,
    places: calls.flatMap((call) => placesOf(ground, call)), equivalent: inTurns(ground, calls),
  };
}

/** Whoever waits for a turn may be called at once as often as one likes. */
function inTurns(ground: Ground, calls: readonly Call[]): string | undefined {
  const tails = new Set(tailCalls(ground));
  const waits = (call: Call): boolean => tails.has(call) || (ground.isOwn(call) && ground.resolver.calleeOf(call).fns.every((fn) => {
    const inner = operationsIn(ground, fn);
    const turns = findAll(fn, 'Call').filter((one) => tails.has(one));
    return inner.every((op) => turns.some((turn) => turn.span.start <= op.span.start && op.span.end <= turn.span.end)) && ground.reaches(fn, 'starts-operation');
  }));
  return calls.every(waits) ? 'each of them waits for its turn' : undefined;
}

/** `const a = await x(); const b = await y();`, where the second does not need the first. */
function* pairs(ground: Ground): Iterable<Planted> {
  for (const block of ground.all('Block')) {
    for (const [i, first] of block.stmts.entries()) {
      const second = block.stmts[i + 1];
      const [a, b] = [awaited(ground, first), second && awaited(ground, second)];
      if (a === undefined || b === undefined || ground.reads(b.call, a.name)) continue;
      const text = `const [${a.name}, ${b.name}] = await Promise.all([${ground.slice(a.call)}, ${ground.slice(b.call)}]);`;
      const path = ground.pathOf(first);
      yield {
        edits: [{ path, at: { start: first.span.start, end: second!.span.end }, text }],
        places: [...placesOf(ground, a.call), ...placesOf(ground, b.call)], equivalent: inTurns(ground, [a.call, b.call]),
      };
    }
  }
}

function awaited(ground: Ground, stmt: AnyNode): { readonly name: string; readonly call: Call } | undefined {
  if (stmt.kind !== 'Let' || stmt.bindings.length !== 1 || stmt.value?.kind !== 'Await' || stmt.value.value.kind !== 'Call') return undefined;
  const call = stmt.value.value;
  return startsOperation(ground, call) && !ground.memberOf(call)?.does?.includes('opens-link') ? { name: (stmt as Let).bindings[0]!.name, call } : undefined;
}
