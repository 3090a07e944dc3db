/** Ways to put operations one after the other, as changes to the program. None is more than the order: what a failure does stays as it was. */
import type { Collision } from '../../server/effects/overlaps.js';
import type { Entry } from '../../server/effects/queue-entries.js';
import type { Edit, Fix } from '../../server/engine/rule.js';
import type { Facts } from '../../server/facts/facts.js';
import { argument, awaitExpr, call as makeCall, eq, exprStmt, lambda, letStmt, listExpr, literal, member, name, names, returnStmt } from '../../server/ir/build.js';
import { MADE, type AnyNode, type Call, type Expr, type Fn, type Loop, type Param, type Stmt } from '../../server/ir/ir.js';
import { findAll } from '../../server/ir/walk.js';

export function fixesFor(facts: Facts, collision: Collision): readonly Fix[] {
  if (facts.file.language === 'kotlin') return present(throughQueue(facts, collision));
  const inOrder = collision.is !== 'overlap' ? undefined
    : collision.overlap.kind === 'parallel' ? oneByOne(facts, collision.at) ?? loopInstead(facts, collision) : awaitFirst(facts, collision.overlap.first.call);
  return present(throughQueue(facts, collision), inOrder);
}

const present = (...fixes: readonly (Fix | undefined)[]): readonly Fix[] => fixes.filter(fix => fix !== undefined);

// ---- Through the queue --------------------------------------------------

/** Hands the operation to the queue in the way in which the class already does that. */
function throughQueue(facts: Facts, collision: Collision): Fix | undefined {
  const { entry, at } = collision;
  if (!entry) return undefined;
  const pastQueue = collision.is === 'overlap' ? collision.overlap.kind === 'past-queue' : collision.exposure.is === 'past-queue';
  const both = collision.is === 'overlap' && collision.overlap.kind === 'sequence' ? [collision.overlap.first.call, at] : pastQueue ? [at] : [];
  const edits = both.map(each => handIn(facts, entry, each));
  if (edits.length === 0 || edits.some(each => each === undefined)) return undefined;
  return { title: `Hand it to the queue with ${calleeName(entry.call)}`, trust: 'review', edits: edits.flatMap(each => each ?? []) };
}

function handIn(facts: Facts, entry: Entry, at: Call): readonly Edit[] | undefined {
  const { code, file } = facts;
  const promise = file.language === 'typescript' && code.typeOf(entry.call)?.name === 'Promise';
  // Where somebody takes the operation's own answer, the queue's would have to be the same.
  if (!promise && code.parentOf(at)?.kind !== 'ExprStmt') return undefined;
  const body = asWanted(facts, entry, at);
  if (!body) return undefined;
  const operation = lambda([], body.value);
  const args = entry.call.args.map(arg => (arg === entry.operation ? argument(operation, arg.trailing ? { trailing: true } : arg.name !== undefined ? { name: arg.name } : {})
    : argument(literal(calleeName(at)), arg.name !== undefined ? { name: arg.name } : {})));
  return [{ do: 'replace', node: at, by: makeCall(entry.call.callee, ...args) }, ...body.imports];
}

/** The operation as the value that the queue wants of what it runs: a flag that says whether it was accepted. */
function asWanted({ code }: Facts, entry: Entry, at: Call): { readonly value: Expr; readonly imports: readonly Edit[] } | undefined {
  const wanted = code.wantedResult(entry.operation.value)?.name;
  if (wanted !== 'boolean') return { value: at, imports: [] };
  const type = code.typeOf(at)?.name;
  if (type === 'number') return { value: eq(at, names('BluetoothStatusCodes', 'SUCCESS')), imports: [{ do: 'import', from: 'android.bluetooth', name: 'BluetoothStatusCodes' }] };
  if (type !== 'boolean') return undefined;
  // A receiver that may be missing makes the answer null.
  return { value: code.typeOf(at)?.nullable === true ? eq(at, literal(true)) : at, imports: [] };
}

const calleeName = ({ callee }: Call): string => (callee.kind === 'Member' || callee.kind === 'Name' ? callee.name : 'it');

// ---- Awaiting -----------------------------------------------------------

/** The first one is waited for before the code goes on. */
function awaitFirst(facts: Facts, first: Call): Fix | undefined {
  const stmt = statementOf(facts, first);
  if (stmt?.kind !== 'ExprStmt' || stmt.expr.kind === 'Await' || !isAsync(facts, stmt)) return undefined;
  return { title: `Wait for ${calleeName(first)} first`, trust: 'review', edits: [{ do: 'replace', node: stmt, by: exprStmt(awaitExpr(stmt.expr)) }] };
}

/** The statement that an expression is all of, with what is chained to it. */
function statementOf({ code }: Facts, expr: Expr): AnyNode | undefined {
  let node: AnyNode | undefined = code.parentOf(expr);
  while (node?.kind === 'Member' || node?.kind === 'Call' || node?.kind === 'Unary') node = code.parentOf(node);
  return node;
}

function isAsync({ code, file }: Facts, node: AnyNode): boolean {
  const fn = code.enclosingFn(node);
  return fn ? fn.modifiers.has('async') && !fn.modifiers.has('generator') : file.language === 'typescript';
}

// ---- One by one ---------------------------------------------------------

/** `Promise.all` over a list becomes a loop, over some promises an awaited sequence. */
function oneByOne(facts: Facts, all: Call): Fix | undefined {
  if (calleeName(all) !== 'all' || !isAsync(facts, all)) return undefined;
  const [list] = all.args;
  const awaited = facts.code.parentOf(all);
  const whole: Expr = awaited?.kind === 'Await' ? awaited : all;
  const stmt = facts.code.parentOf(whole);
  if (!list || list.spread || (whole === all && stmt?.kind !== 'Return')) return undefined;
  const title = 'Start one after the other';
  if (list.value.kind === 'ListExpr' && list.value.items.every(item => item.kind !== 'Unary' || item.op !== '...')) {
    const items = list.value.items.map(awaitExpr);
    const edit: Edit = stmt?.kind === 'ExprStmt' ? { do: 'replace', node: stmt, by: exprStmt(items[0]!) } : { do: 'replace', node: whole, by: listExpr(...items) };
    const rest: Edit[] = stmt?.kind === 'ExprStmt' && items.length > 1 ? [{ do: 'insert', where: 'after', node: stmt, stmts: items.slice(1).map(exprStmt) }] : [];
    return { title, trust: 'review', edits: [edit, ...rest] };
  }
  const map = list.value;
  if (map.kind !== 'Call' || map.callee.kind !== 'Member' || map.callee.name !== 'map' || !stmt) return undefined;
  const body = map.args[0]?.value;
  return body?.kind === 'Lambda' ? asLoop(facts, map.callee.object, body.fn, stmt, title) : undefined;
}

/** The loop in place of a statement that gathers, binds or returns what a list's promises yield. */
function asLoop(facts: Facts, source: Expr, fn: Fn, stmt: AnyNode, title: string): Fix | undefined {
  if (stmt.kind === 'ExprStmt') {
    const round = roundOf(facts, fn, value => exprStmt(value));
    return round && { title, trust: 'review', edits: [{ do: 'replace', node: stmt, by: loopOver(fn, source, round) }] };
  }
  const into = stmt.kind === 'Let' && stmt.bindings.length === 1 && stmt.bindings[0]!.path.length === 0 ? stmt.bindings[0]!.name : stmt.kind === 'Return' ? 'results' : undefined;
  if (into === undefined || (stmt.kind !== 'Let' && stmt.kind !== 'Return')) return undefined;
  const round = roundOf(facts, fn, value => exprStmt(makeCall(member(name(into), 'push'), value)));
  if (!round) return undefined;
  const loop = loopOver(fn, source, round);
  const list = letStmt(into, listExpr());
  if (stmt.kind === 'Let') return { title, trust: 'review', edits: [{ do: 'replace', node: stmt, by: list }, { do: 'insert', where: 'after', node: stmt, stmts: [loop] }] };
  return { title, trust: 'review', edits: [{ do: 'insert', where: 'before', node: stmt, stmts: [list, loop] }, { do: 'replace', node: stmt, by: returnStmt(name(into)) }] };
}

/** `list.forEach(async x => { … })` becomes a loop, where the function around it can wait. */
function loopInstead(facts: Facts, collision: Collision): Fix | undefined {
  const fn = facts.code.enclosingFn(collision.at);
  const holder = fn && facts.code.parentOf(fn);
  const each = holder && facts.code.parentOf(holder);
  if (!fn || each?.kind !== 'Call' || each.callee.kind !== 'Member' || each.callee.name !== 'forEach' || !isAsync(facts, each)) return undefined;
  const stmt = facts.code.parentOf(each);
  return stmt?.kind === 'ExprStmt' ? asLoop(facts, each.callee.object, fn, stmt, 'Start one after the other') : undefined;
}

/** What a round of the loop does: the lambda's statements, its value waited for. A `return` further in would leave the wrong function. */
function roundOf({ code }: Facts, fn: Fn, take: (value: Expr) => Stmt): readonly Stmt[] | undefined {
  const stmts = fn.body?.stmts ?? [];
  const last = stmts.at(-1);
  const returns = fn.body ? findAll(fn.body, 'Return').filter(each => code.enclosingFn(each) === fn) : [];
  if (fn.params.length !== 1 || returns.some(each => each !== last)) return undefined;
  if (last?.kind !== 'Return') return stmts;
  if (!last.value) return stmts.slice(0, -1);
  return [...stmts.slice(0, -1), take(last.value.kind === 'Await' ? last.value : awaitExpr(last.value))];
}

function loopOver({ params: [param] }: Fn, source: Expr, stmts: readonly Stmt[]): Loop {
  return { kind: 'Loop', span: MADE, testFirst: true, over: { bindings: bindingsOf(param!), source }, body: { kind: 'Block', span: MADE, stmts } };
}

const bindingsOf = (param: Param) => param.pattern ?? [{ name: param.name, span: MADE, path: [] }];
