/**
 * Notification registrations held against what the oldest target grants: counted where the code says how many, taken from
 * the device profile where the code subscribes to everything that the peripheral offers, and without any bound where nothing
 * says how many that is.
 */
import type { AnyNode, Call, Expr, File } from '../ir/ir.js';
import type { Edge } from '../flow/graph.js';
import { unguarded } from '../flow/paths.js';
import { levelsBelow, limitAt, osLimit, rangeAt } from '../catalogue/index.js';
import type { Analysis } from './analysis.js';
import { returnsOf } from './origins.js';
import { mostIn, passingIn, registersAt, type Passing } from './registrations.js';
import { roundsOf } from './rounds.js';
import { cannotNotify } from './working-ways.js';

export interface Registrations extends Passing {
  /** `counted` in the code, `listed` in the profile, `unbounded`: as many as the peripheral happens to offer. */
  readonly how: 'counted' | 'listed' | 'unbounded';
  readonly limit: GrantedBy;
}

/** What the platform grants on the oldest target, and where it does. */
export interface GrantedBy {
  readonly constant: string;
  readonly granted: number;
  /** API levels, from the oldest target on, that grant fewer than are asked for. */
  readonly short: { readonly from: number; readonly to?: number };
  /** The releases of the oldest target's range, in words. */
  readonly releases: string;
  /** From this API level on makers cannot change the figure. */
  readonly firmFrom?: number;
}

export interface Against {
  /** Oldest API level. */
  readonly minimum: number;
  /** Characteristics that notify or indicate, as the device profile lists them; absent without one. */
  readonly listed?: number;
}

/** Above this a peripheral that offers so much is out of reach, and subscribing to all of it does no harm. */
const PLENTY = 64;

export function registrationsIn(a: Analysis, file: File, against: Against): readonly Registrations[] {
  const limit = osLimit('notification-registrations');
  const granted = limitAt(limit, against.minimum);
  const grantedBy = (count: number): GrantedBy => ({
    constant: limit.constant, granted, releases: rangeAt(limit, against.minimum).release,
    short: levelsBelow(limit, count, against.minimum) ?? { from: against.minimum },
    ...(limit.firmFrom !== undefined && { firmFrom: limit.firmFrom }),
  });
  const counted = passingIn(a, file, granted).map((passing): Registrations => ({ ...passing, how: 'counted', limit: grantedBy(passing.least) }));
  const { listed } = against;
  const all = mostIn(a, file) > granted && (listed === undefined ? granted < PLENTY : listed > granted) ? everythingIn(a, file) : [];
  return [...counted, ...all.map(({ at, loop }): Registrations => ({
    at, made: [{ call: loop, count: 0 }], least: listed ?? 1, most: listed ?? Infinity, how: listed === undefined ? 'unbounded' : 'listed', limit: grantedBy(listed ?? granted + 1),
  }))];
}

// ---- Everything that there is -------------------------------------------

/** Calls that subscribe to each characteristic of each service that was discovered. */
function everythingIn(a: Analysis, file: File): readonly { readonly at: Call; readonly loop: Call }[] {
  const found: { at: Call; loop: Call }[] = [];
  a.eachBelow(file, node => {
    if (node.kind !== 'Call' || !registersAt(a, node) || hasRegisteringLambda(a, node)) return undefined;
    const source = everythingAround(a, node);
    if (source && isUnconditional(a, node)) found.push({ at: node, loop: source });
    return undefined;
  });
  return found;
}

/** The scope function or loop around is not what subscribes. */
function hasRegisteringLambda(a: Analysis, call: Call): boolean {
  return call.args.some(({ value }) => value.kind === 'Lambda' && a.isInlined(value.fn));
}

/** The loop over all services, with the one over each service's characteristics in it, or the one over both flattened. */
function everythingAround(a: Analysis, call: Call): Call | undefined {
  let characteristics: AnyNode | undefined;
  for (let node: AnyNode | undefined = a.program.parentOf(call); node; node = a.program.parentOf(node)) {
    if (node.kind === 'Fn' && !a.isInlined(node)) return undefined;
    const source = roundsOf(a, node) && sourceOf(a, node);
    if (!source) continue;
    if (isFlattened(a, source)) return asCall(source) ?? call;
    const element = elementType(a, source);
    if (element === undefined) return undefined;
    if (/Characteristic$/.test(element)) characteristics = node;
    else if (/Service$/.test(element) && characteristics) return asCall(source) ?? call;
    else return undefined;
  }
  return undefined;
}

function sourceOf(a: Analysis, node: AnyNode): Expr | undefined {
  const taker = node.kind === 'Loop' ? undefined : a.program.parentOf(node);
  const source = node.kind === 'Loop' ? node.over?.source : taker?.kind === 'Call' && taker.callee.kind === 'Member' ? taker.callee.object : undefined;
  return source && unfiltered(a, source);
}

/** `.filter { it.canNotify() }` leaves out what could not be subscribed anyway. */
function unfiltered(a: Analysis, source: Expr): Expr {
  if (source.kind !== 'Call' || source.callee.kind !== 'Member' || source.callee.name !== 'filter') return source;
  const lambda = source.args[0]?.value;
  const [test] = lambda?.kind === 'Lambda' ? returnsOf(a, lambda.fn) : [];
  return test && isAboutProperties(a, test) ? unfiltered(a, source.callee.object) : source;
}

function elementType(a: Analysis, source: Expr): string | undefined {
  const type = a.resolver.typeOf(source);
  const list = type?.name === 'Promise' ? type.args[0] : type;
  const element = list?.name === 'list' ? list.args[0]?.name : undefined;
  return element !== undefined && /^Bluetooth(?:Gatt|RemoteGATT)(?:Service|Characteristic)$/.test(element) ? element : undefined;
}

/** `gatt.services.flatMap { it.characteristics }` */
function isFlattened(a: Analysis, source: Expr): boolean {
  if (source.kind !== 'Call' || source.callee.kind !== 'Member' || source.callee.name !== 'flatMap') return false;
  return /Service$/.test(elementType(a, source.callee.object) ?? '') && /Characteristic$/.test(elementType(a, source) ?? '');
}

function asCall(expr: Expr): Call | undefined {
  return expr.kind === 'Call' ? expr : undefined;
}

/** Whether nothing on the way to a call picks some of the characteristics: tests of null and of the properties do not. */
function isUnconditional(a: Analysis, call: Call): boolean {
  const at = a.stepsOf(call);
  if (!at) return false;
  const picks = ({ when }: Edge): boolean => {
    if (when?.is === 'match') return true;
    return when?.is === 'condition' && !isAboutProperties(a, when.test) && !isNullTest(when.test);
  };
  return at.steps.some(step => unguarded(at.graph, step, { edge: picks }) !== undefined);
}

function isAboutProperties(a: Analysis, test: Expr): boolean {
  return cannotNotify(a, test, true) || cannotNotify(a, test, false);
}

function isNullTest(test: Expr): boolean {
  return test.kind === 'Binary' && test.right.kind === 'Literal' && test.right.value === null;
}
