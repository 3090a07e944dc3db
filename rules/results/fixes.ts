/** Ways to answer a start that was refused, and a promise that nobody waits for, as changes to the program. */
import { answerOf, askedAnswer, catchers, catchText, type Failure } from '../../server/engine/answers.js';
import type { Edit, Fix } from '../../server/engine/rule.js';
import type { Start } from '../../server/effects/starts.js';
import type { Facts, Link, WayOn } from '../../server/facts/facts.js';
import { binary, call as makeCall, ifThen, literal, names, not, notEq, returnStmt, throwStmt } from '../../server/ir/build.js';
import type { AnyNode, Call, Expr, Stmt } from '../../server/ir/ir.js';
import { dropSiteOf, type DropSite } from './drop-site.js';

/** More ways than these are no help. */
const MOST = 3;

// ---- Flags and status ints ----------------------------------------------

export function fixesForFlag(facts: Facts, start: Start): readonly Fix[] {
  const { code } = facts;
  const site = dropSiteOf(code, start.call);
  if (!site) return [];
  const test = refused(facts, start, site);
  if (!test) return [];
  const status: readonly Edit[] = start.answer === 'accept-status' ? [{ do: 'import', from: 'android.bluetooth', name: 'BluetoothStatusCodes' }] : [];
  const fix = (title: string, stmts: readonly Stmt[], more: Pick<Fix, 'asks'> & { readonly imports?: readonly Edit[] } = {}): Fix => ({
    title, trust: 'review', edits: [...put(site, start, ifThen(test, stmts)), ...status, ...(more.imports ?? [])], ...(more.asks && { asks: more.asks }),
  });
  const fallback = site.is === 'statement' && site.fallback ? fromFallback(site.fallback) : [];
  if (fallback.some(stmt => !isBareLeave(stmt) && !code.onlyTells(stmt))) return [fix('Let what answers a missing object answer a refusal too', fallback)];
  const failure: Failure = { language: facts.file.language, text: `${nameOf(start)} was not accepted` };
  const ways = answersFor(facts, start).slice(0, MOST).map(way => {
    const answer = answerOf(way, failure);
    const stop = !answer.leaves && fallback.every(stmt => !isBareLeave(stmt)) && way.is !== 'complete' && mayStop(facts, site) ? [returnStmt()] : [];
    return fix(`If it is refused, ${answer.does}`, [...fallback.filter(stmt => !isBareLeave(stmt)), ...answer.stmts, ...fallback.filter(stmt => !answer.leaves && isBareLeave(stmt)), ...stop], { imports: answer.imports });
  });
  if (ways.length > 0) return ways;
  const asked = askedAnswer(failure, 'onStartRefused');
  return [fix(`If it is refused, ${asked.does}`, [...fallback, ...asked.stmts], { asks: asked.asks })];
}

const nameOf = (start: Start): string => start.api.split('.').at(-1)!;

/** The condition that says: not accepted. */
function refused(facts: Facts, start: Start, site: DropSite): Expr | undefined {
  if (keepsName(site, start)) return fails(facts, start, site.name, site.value);
  const { value } = site;
  if (value.kind === 'Binary' && value.op === '&&') return binary(value.left, '&&', fails(facts, start, value.right, value.right));
  return fails(facts, start, value, value);
}

/** The name is assigned or has readers, so that it stays and the check comes behind. */
function keepsName(site: DropSite, { use }: Start): site is DropSite & { is: 'name' } {
  return site.is === 'name' && (site.stmt.kind === 'Assign' || !(use?.is === 'discarded' && use.how === 'never-read'));
}

/** Source: `BluetoothStatusCodes.SUCCESS`, android.bluetooth, the public API. */
function fails({ code }: Facts, { answer }: Start, expr: Expr, typed: Expr): Expr {
  if (answer === 'accept-status') return notEq(expr, names('BluetoothStatusCodes', 'SUCCESS'));
  return code.typeOf(typed)?.nullable === true ? notEq(expr, literal(true)) : not(expr);
}

function put(site: DropSite, start: Start, check: Stmt): readonly Edit[] {
  return keepsName(site, start) ? [{ do: 'insert', where: 'after', node: site.stmt, stmts: [check] }] : [{ do: 'replace', node: site.stmt, by: check }];
}

/** What stands behind `?:` as a statement. */
function fromFallback(fallback: Expr): readonly Stmt[] {
  if (fallback.kind === 'Leave') return [fallback.by];
  return fallback.kind === 'Call' ? [{ kind: 'ExprStmt', span: fallback.span, expr: fallback }] : [];
}

/** It leaves, and tells nobody anything. */
const isBareLeave = (stmt: Stmt): boolean => stmt.kind === 'Jump' || (stmt.kind === 'Return' && stmt.value === undefined);

/** The link itself is asked for last; where it is what refuses to connect, only giving it back helps. */
function answersFor({ code }: Facts, start: Start): readonly WayOn[] {
  const link = linkOf(code, start.call);
  const ways = code.waysOn(start.call, link);
  return nameOf(start) === 'connect' ? ways.map(way => (way.is === 'disconnect' ? { ...way, is: 'close' as const } : way)) : ways;
}

function linkOf(code: Facts['code'], call: Call): Link | undefined {
  const { callee } = call;
  if (callee.kind === 'Name') return 'receiver';
  return callee.kind === 'Member' && code.typeOf(callee.object)?.name === 'BluetoothGatt' ? callee.object : undefined;
}

/** Something follows that needs what was refused, and a bare `return` leaves the function. */
function mayStop({ code }: Facts, { stmt }: DropSite): boolean {
  const fn = code.enclosingFn(stmt);
  if (!fn || fn.name === undefined || fn.name === 'constructor' || code.home(stmt) !== fn) return false;
  const yieldsNothing = fn.result === undefined ? fn.body?.stmts.some(isValue) !== true : fn.result.name === 'void';
  return yieldsNothing && fn.body?.stmts.at(-1) !== stmt;
}

const isValue = (stmt: AnyNode): boolean => stmt.kind === 'Return' && stmt.value !== undefined;

// ---- Promises -----------------------------------------------------------

export function fixesForPromise(facts: Facts, start: Start): readonly Fix[] {
  const promise = start.floats;
  if (!promise) return [];
  if (nameOf(start) === 'reject') return rejected(facts, start.call);
  const joined = start.joins.map((join): Fix => ({
    title: join === 'await' ? `Wait for ${nameOf(start)} here` : `Return the promise of ${nameOf(start)} into the chain`,
    trust: 'review', edits: [{ do: 'wrap', node: promise, before: `${join} `, after: '' }],
  }));
  return [...joined, ...catching(facts, start.call, promise)].slice(0, MOST);
}

/** `.catch(…)` behind the promise. */
function catching({ code, text }: Facts, call: Call, promise: Expr): readonly Fix[] {
  return catchers(code.waysOn(call), code.textOf).map(({ does, handler, asks }) => ({
    title: `When it fails, ${does}`, trust: 'review', edits: [{ do: 'wrap', node: promise, before: '', after: catchText(promise, handler, text) }], ...(asks && { asks }),
  }));
}

/** `Promise.reject(error)` as a statement: what was meant is to fail. */
function rejected({ code }: Facts, call: Call): readonly Fix[] {
  const stmt = code.parentOf(call);
  const [reason] = call.args;
  const fn = code.enclosingFn(call);
  if (stmt?.kind !== 'ExprStmt' || !reason || !fn) return [];
  if (fn.modifiers.has('async')) return [{ title: 'Throw, so that the caller hears of it', trust: 'review', edits: [{ do: 'replace', node: stmt, by: throwStmt(reason.value) }] }];
  return [{ title: 'Return the rejection to the caller', trust: 'review', edits: [{ do: 'replace', node: stmt, by: returnStmt(makeCall(call.callee, reason.value)) }] }];
}
