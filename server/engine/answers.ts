/**
 * How a fix answers a failure, written as model pieces: the statements for a way on that `effects/ways-on.ts` found, and
 * what they need imported. It decides nothing; which way is taken, and where it is put, is the rule's affair.
 */
import type { WayOn } from '../facts/facts.js';
import { call, construct, exprStmt, literal, member, name, returnStmt, throwStmt } from '../ir/build.js';
import type { Expr, Language, Stmt } from '../ir/ir.js';
import type { Edit, Fix } from './rule.js';

export interface Answer {
  /** Verb phrase, continuing "If it is refused, …". */
  readonly does: string;
  readonly stmts: readonly Stmt[];
  /** Imports that the statements need. */
  readonly imports: readonly Edit[];
  /** Nothing after the statements is run. */
  readonly leaves: boolean;
}

export interface Failure {
  readonly language: Language;
  /** What failed, as a text for whoever is told: `readCharacteristic was not accepted`. */
  readonly text: string;
  /** The variable that holds the error, where there is one. */
  readonly error?: string;
  /** The variable that holds the status, where there is one. */
  readonly status?: string;
}

export function answerOf(way: WayOn, failure: Failure): Answer {
  const { language } = failure;
  switch (way.is) {
    case 'resume': case 'complete': return told(way, failure);
    case 'reject': return made('reject the promise', exprStmt(call(name(way.name), errorOf(failure))));
    case 'call': return made(`call ${nameOf(way.callee)}`, exprStmt(call(way.callee, ...given(way.takes, failure))));
    case 'false': return { ...made('return false', returnStmt(literal(false))), leaves: true };
    case 'throw': return { ...made('throw', throwStmt(errorOf(failure))), leaves: true };
    case 'disconnect': case 'close': {
      const callee = way.link === 'receiver' ? name(way.is) : member(way.link, way.is, way.optional ? (language === 'kotlin' ? 'step' : 'chain') : undefined);
      return made(way.is === 'close' ? 'close the link' : 'disconnect', exprStmt(call(callee)));
    }
  }
}

const made = (does: string, ...stmts: Stmt[]): Answer => ({ does, stmts, imports: [], leaves: false });

/** Whoever waits gets false where a boolean is waited for, an exception otherwise. */
function told(way: WayOn & { is: 'resume' | 'complete' }, failure: Failure): Answer {
  const { target, boolean: yields, optional, is } = way;
  const does = is === 'resume' ? `resume ${nameOf(target)}` : `complete ${nameOf(target)}`;
  const verb = yields ? is : is === 'resume' ? 'resumeWithException' : 'completeExceptionally';
  const stmt = exprStmt(call(member(target, verb, optional ? 'step' : undefined), yields ? literal(false) : errorOf(failure)));
  const isExtension = is === 'resume';
  return { does: `${does} ${yields ? 'with false' : 'with an exception'}`, stmts: [stmt], imports: isExtension ? [{ do: 'import', from: 'kotlin.coroutines', name: verb }] : [], leaves: false };
}

function errorOf({ language, text, error }: Failure): Expr {
  if (error !== undefined) return name(error);
  return language === 'kotlin' ? call(name('IllegalStateException'), literal(text)) : construct(name('Error'), literal(text));
}

function given(takes: (WayOn & { is: 'call' })['takes'], failure: Failure): readonly Expr[] {
  switch (takes) {
    case 'nothing': return [];
    case 'text': return [failure.error !== undefined ? call(name('String'), name(failure.error)) : literal(failure.text)];
    case 'error': return [errorOf(failure)];
    case 'status': return [failure.status !== undefined ? name(failure.status) : member(name('BluetoothGatt'), 'GATT_FAILURE')];
  }
}

function nameOf(expr: Expr): string {
  return expr.kind === 'Name' || expr.kind === 'Member' ? expr.name : 'it';
}

/** Where no way on is known: the user is asked for the function that answers. */
export function askedAnswer(failure: Failure, initial: string): Pick<Answer, 'does' | 'stmts'> & { readonly asks: NonNullable<Fix['asks']> } {
  const handler = name('<handler>');
  return {
    does: 'call a function of yours …',
    stmts: [exprStmt(call(handler, ...(failure.error !== undefined ? [name(failure.error)] : failure.status !== undefined ? [name(failure.status)] : [])))],
    asks: [{ placeholder: 'handler', question: 'Which function answers the failure?', initial }],
  };
}

/** The function that `.catch(…)` is given, as TypeScript text, for each way that can be taken there. Never empty: the last resort asks. */
export function catchers(ways: readonly WayOn[], textOf: (expr: Expr) => string): readonly (Pick<Answer, 'does'> & { readonly handler: string } & Pick<Fix, 'asks'>)[] {
  const found = ways.flatMap(way => {
    const handler = handlerFor(way, textOf);
    return handler === undefined ? [] : [{ does: answerOf(way, { language: 'typescript', text: '', error: 'error' }).does, handler }];
  });
  if (found.length > 0) return found;
  const { does, asks } = askedAnswer({ language: 'typescript', text: '' }, 'onGattFailure');
  return [{ does, handler: '<handler>', asks }];
}

/** `.catch(handler)` as it is written behind a promise: on a line of its own behind a chain that has one for each link. */
export function catchText(promise: Expr, handler: string, text: string): string {
  const callee = promise.kind === 'Call' && promise.callee.kind === 'Member' ? promise.callee : undefined;
  const dot = callee ? text.lastIndexOf('.', callee.nameSpan.start) : -1;
  const lineStart = text.lastIndexOf('\n', dot) + 1;
  const lead = dot >= 0 ? text.slice(lineStart, dot) : 'x';
  return lead.trim() === '' ? `\n${lead}.catch(${handler})` : `.catch(${handler})`;
}

function handlerFor(way: WayOn, textOf: (expr: Expr) => string): string | undefined {
  if (way.is === 'reject') return way.name;
  if (way.is !== 'call') return undefined;
  const callee = textOf(way.callee);
  switch (way.takes) {
    case 'nothing': return `() => ${callee}()`;
    case 'error': return way.callee.kind === 'Name' ? callee : `error => ${callee}(error)`;
    case 'text': return `error => ${callee}(String(error))`;
    case 'status': return undefined;
  }
}
