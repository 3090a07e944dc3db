/** Ways to answer a failed operation: at the top of a callback, and around what an outermost function awaits. */
import { answerOf, askedAnswer, catchers, catchText, type Failure } from '../../server/engine/answers.js';
import type { Edit, Fix } from '../../server/engine/rule.js';
import type { StatusUse } from '../../server/effects/status.js';
import type { Unanswered } from '../../server/effects/unanswered.js';
import type { Facts, WayOn } from '../../server/facts/facts.js';
import { eq, ifThen, name, names, notEq, returnStmt } from '../../server/ir/build.js';
import type { Call, Expr, Fn, Stmt } from '../../server/ir/ir.js';

/** More ways than these are no help. */
const MOST = 3;

// ---- Callbacks ----------------------------------------------------------

/** `if (status != GATT_SUCCESS) { … return }` before anything else. */
export function fixesForCallback(facts: Facts, use: StatusUse): readonly Fix[] {
  const { fn, param, member, whenDown } = use;
  if (!hasBlock(facts, fn) || param.name === '') return [];
  const failure: Failure = { language: 'kotlin', text: `${member.name} failed`, status: param.name };
  const fix = (does: string, stmts: readonly Stmt[], more: { readonly imports?: readonly Edit[] } & Pick<Fix, 'asks'> = {}): Fix => ({
    title: `If the status is not success, ${does}`, trust: 'review', ...(more.asks && { asks: more.asks }),
    edits: [
      { do: 'body', where: 'first', fn, stmts: [ifThen(notEq(name(param.name), SUCCESS), [...stmts, returnStmt()])] },
      { do: 'import', from: 'android.bluetooth', name: 'BluetoothGatt' }, ...(more.imports ?? []),
    ],
  });
  const ways = waysFor(facts, fn, member.name).map(way => ({ way, answer: answerOf(way, failure) }));
  const fixes = [
    ...(member.name === 'onMtuChanged' ? onlyOnSuccess(facts, use) : []),
    ...(whenDown ? [fix('do what is done when the link is down', [...whenDown.stmts, ...(whenDown.closes ? [] : ways.flatMap(({ way, answer }) => (way.is === 'close' ? answer.stmts : [])))])] : []),
    ...ways.map(({ answer }) => fix(answer.does, answer.stmts, { imports: answer.imports })),
  ];
  if (fixes.length > 0) return fixes.slice(0, MOST);
  const asked = askedAnswer(failure, 'onGattFailure');
  return [fix(asked.does, asked.stmts, { asks: asked.asks })];
}

const SUCCESS = names('BluetoothGatt', 'GATT_SUCCESS');

/** A refused exchange leaves the link as it was: what was agreed before still holds, and the rest may go on. */
function onlyOnSuccess({ code }: Facts, { fn, param, results }: StatusUse): readonly Fix[] {
  const taking = (fn.body?.stmts ?? []).filter(stmt => results.has(stmt));
  const [stmt, ...others] = taking;
  if (!stmt || others.length > 0 || (stmt.kind !== 'ExprStmt' && stmt.kind !== 'Assign') || code.onlyTells(stmt)) return [];
  return [{
    title: 'Take the MTU only on success', trust: 'review',
    edits: [{ do: 'replace', node: stmt, by: ifThen(eq(name(param.name), SUCCESS), [stmt]) }, { do: 'import', from: 'android.bluetooth', name: 'BluetoothGatt' }],
  }];
}

/** A body of its own: statements cannot be put before `= value` without a type in writing. */
function hasBlock({ code }: Facts, fn: Fn): boolean {
  return fn.body !== undefined && code.textOf(fn.body).startsWith('{');
}

/** A client that could not connect, or was disconnected, is given back; any other failure ends the link. */
function waysFor({ code }: Facts, fn: Fn, callback: string): readonly WayOn[] {
  const gatt = fn.params[0];
  const isLink = gatt?.type?.name.split('.').at(-1) === 'BluetoothGatt' && gatt.name !== '';
  const link = isLink ? name(gatt.name) : undefined;
  const optional = gatt?.type?.nullable === true;
  const ways = code.waysOn(fn);
  if (!link) return ways;
  const end = callback === 'onConnectionStateChange' ? 'close' : code.linkEnd;
  return [...ways, { is: end, link, optional }];
}

// ---- Awaited rejections -------------------------------------------------

export function fixesForHandler(facts: Facts, it: Unanswered): readonly Fix[] {
  switch (it.run.is) {
    case 'tail': return tailFix(facts, it.call);
    case 'open-chain': return catchFixes(facts, it.call, it.run.end);
    default: return tryFixes(facts, it) ?? catchAtCall(facts, it);
  }
}

/** Each operation after a failed one is tried again; the failure stays with whoever has the failed one's promise. */
function tailFix({ code }: Facts, then: Call): readonly Fix[] {
  const tail = then.callee.kind === 'Member' ? then.callee.object : undefined;
  if (!tail) return [];
  return [{
    title: `Let what comes next run also when ${code.textOf(tail)} has failed`, trust: 'review',
    edits: [{ do: 'wrap', node: tail, before: '', after: '.catch(() => undefined)' }],
  }];
}

/** What a handler does with the error, in the words of the code around. */
function handlers(facts: Facts, at: Call, error: string): readonly ({ readonly does: string; readonly stmts: readonly Stmt[] } & Pick<Fix, 'asks'>)[] {
  const failure: Failure = { language: 'typescript', text: '', error };
  const told = facts.code.waysOn(at).filter(way => way.is === 'reject' || (way.is === 'call' && way.takes !== 'status'));
  if (told.length > 0) return told.slice(0, MOST).map(way => answerOf(way, failure));
  return [askedAnswer(failure, 'onGattFailure')];
}

/** The whole body into a `try`, where it has lines of its own. */
function tryFixes(facts: Facts, { call, home, run }: Unanswered): readonly Fix[] | undefined {
  const stmts = home === undefined ? [] : home.kind === 'Block' ? statementAround(facts, call) : bodyOf(facts, home);
  const [from] = stmts;
  const to = stmts.at(-1);
  if (!from || !to || !standAlone(facts, from, to)) return undefined;
  return handlers(facts, call, 'error').map(({ does, stmts: body, asks }) => ({
    title: run.is === 'executor' ? `When it fails, ${does}` : `Catch it here and ${does}`, trust: 'review',
    edits: [{ do: 'try', from, to, handler: { param: 'error', body } }], ...(asks && { asks }),
  }));
}

function bodyOf({ code }: Facts, fn: Fn): readonly Stmt[] {
  const stmts = fn.body?.stmts ?? [];
  return fn.body && code.textOf(fn.body).startsWith('{') ? stmts : [];
}

/** At the top level only a statement that declares nothing may move into a block. */
function statementAround({ code }: Facts, call: Call): readonly Stmt[] {
  const awaited = code.parentOf(call);
  const stmt = awaited && code.parentOf(awaited);
  return stmt?.kind === 'ExprStmt' ? [stmt] : [];
}

function standAlone({ text }: Facts, from: Stmt, to: Stmt): boolean {
  const before = text.slice(text.lastIndexOf('\n', from.span.start - 1) + 1, from.span.start);
  const end = text.indexOf('\n', to.span.end);
  const behind = text.slice(to.span.end, end < 0 ? undefined : end);
  return before.trim() === '' && /^\s*;?\s*(?:\/\/.*)?$/.test(behind);
}

/** `.catch(…)` at the call, where nothing that follows needs what it would have yielded. */
function catchAtCall(facts: Facts, { call }: Unanswered): readonly Fix[] {
  const { code } = facts;
  const awaited = code.parentOf(call);
  const stmt = awaited?.kind === 'Await' ? code.parentOf(awaited) : undefined;
  const fn = code.enclosingFn(call);
  const isLast = (stmt?.kind === 'ExprStmt' || (stmt?.kind === 'Return' && stmt.implicit)) && fn?.body?.stmts.at(-1) === stmt;
  return isLast ? catchFixes(facts, call, call) : [];
}

function catchFixes({ code, text }: Facts, at: Call, promise: Expr): readonly Fix[] {
  return catchers(code.waysOn(at), code.textOf).slice(0, MOST).map(({ does, handler, asks }) => ({
    title: `When it fails, ${does}`, trust: 'review', edits: [{ do: 'wrap', node: promise, before: '', after: catchText(promise, handler, text) }], ...(asks && { asks }),
  }));
}
