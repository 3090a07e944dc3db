/**
 * The life of every link that the program opens: who holds it, and whether anything that holds it gives it back. A holder
 * that cannot be known (returned to callers outside, handed to unknown code) makes no finding.
 */
import type { Call, Expr, File, Fn, Stmt } from '../ir/ir.js';
import type { Edge, Step } from '../flow/graph.js';
import { escape, wayFrom } from '../flow/paths.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { closers, closes, type Closer } from './closing.js';
import { placesFor, type ClosingPlaces } from './closing-places.js';
import { holdersOf, keptFrom, type Holder } from './holders.js';
import { forgettingOf, overwritingOf, type Forgetting, type Overwriting } from './lost-links.js';
import { callsDoing } from './operations.js';
import { originsOf, receiverOrigins, type Origin } from './origins.js';
import { isOnlyAfterwards, liveWays, weaknessOf, type Weakness } from './reach.js';
import { roleOf } from './roles.js';
import { webVerdict, type Exposed } from './web-links.js';

export interface LinkLife {
  readonly open: Call;
  readonly holders: readonly Holder[];
  readonly verdict: Verdict;
  /** Where it could be closed, for a fix. */
  readonly places: ClosingPlaces;
}

export type Verdict =
  | { readonly is: 'closed'; readonly by: readonly Closer[] }
  | { readonly is: 'unknown' }
  /** The result goes nowhere, or only into a name that nothing keeps: a pending connection cannot be cancelled. */
  | { readonly is: 'dropped'; readonly closedInCallback: boolean }
  /** Only a weak reference keeps it. */
  | { readonly is: 'weak' }
  | { readonly is: 'never-closed'; readonly disconnects: readonly Call[]; readonly exposed?: Exposed }
  /** Something closes it, but nothing ever gets there. */
  | { readonly is: 'unreached'; readonly by: readonly Closer[] }
  /** Whatever closes it does not close one that never came up. */
  | { readonly is: 'weakly-closed'; readonly by: readonly Closer[]; readonly why: Weakness }
  /** Held by this function alone, which has a way out that does not close. */
  | { readonly is: 'left-open'; readonly by: readonly Closer[]; readonly exits: readonly Stmt[]; readonly exposed?: Exposed }
  /** Its own callbacks close it when it has ended; nothing that the app does ever ends it. */
  | { readonly is: 'never-ended'; readonly by: readonly Closer[] }
  | { readonly is: 'overwritten'; readonly how: Overwriting; readonly by: readonly Closer[] }
  | { readonly is: 'forgotten'; readonly how: Forgetting; readonly by: readonly Closer[] }
  /** The opening is not in the program, and all that the program ever does with the link in the end is disconnect it. */
  | { readonly is: 'only-disconnected' };

const NO_PLACES: ClosingPlaces = { teardowns: [], ended: [], failed: [], emptied: [], overwrites: false, exits: [] };

export function linksOpened(a: Analysis): readonly Call[] {
  return callsDoing(a, 'opens-link');
}

/** The lives of the links that a file opens; in a program that opens none, of those that it only disconnects. */
export function livesIn(a: Analysis, file: File): readonly LinkLife[] {
  const isAndroid = (call: Call): boolean => a.fileOf(call)?.language === 'kotlin';
  const opened = linksOpened(a);
  const lives = opened.filter(open => a.fileOf(open) === file).map(open => lifeOf(a, open));
  if (opened.some(isAndroid) || closers(a).some(({ call }) => isAndroid(call))) return lives;
  const first = new Map<Decl, Call>();
  for (const call of callsDoing(a, 'disconnects-link').filter(isAndroid)) {
    for (const origin of receiverOrigins(a, call)) if (origin.is === 'decl' && origin.decl.is === 'field' && !first.has(origin.decl)) first.set(origin.decl, call);
  }
  const strays = [...new Set(first.values())].filter(call => a.fileOf(call) === file);
  return [...lives, ...strays.map((open): LinkLife => ({ open, holders: [], verdict: { is: 'only-disconnected' }, places: NO_PLACES }))];
}

export function lifeOf(a: Analysis, open: Call): LinkLife {
  return a.once<Call, LinkLife>('life', open, { open, holders: [], verdict: { is: 'unknown' }, places: NO_PLACES }, () => {
    if (a.fileOf(open)?.language === 'typescript') return { open, ...webVerdict(a, open), places: NO_PLACES };
    const holders = holdersOf(a, open);
    const verdict = judge(a, open, holders);
    return { open, holders, verdict, get places() { return placesOf(a, open, holders, verdict); } };
  });
}

function placesOf(a: Analysis, open: Call, holders: readonly Holder[], verdict: Verdict): ClosingPlaces {
  return a.once<Call, ClosingPlaces>('closing-places', open, NO_PLACES, () => {
    const callbacks = callbacksOf(a, open) ?? new Set<Fn>();
    const overwrites = overwritingOf(a, open, holders, callbacks, false) !== undefined;
    return placesFor(a, open, holders, callbacks, { overwrites, exits: verdict.is === 'left-open' ? verdict.exits : [] });
  });
}

// ---- Android ------------------------------------------------------------

function judge(a: Analysis, open: Call, holders: readonly Holder[]): Verdict {
  const callbacks = callbacksOf(a, open);
  const kept = holders.filter(h => h.is === 'decl' && !isIdle(a, h.decl));
  const mayBeElsewhere = holders.some(h => h.is === 'unknown' || h.is === 'caller');
  const inCallback = [...callbacks ?? []].flatMap(fn => linkParams(a, fn).flatMap(decl => keptFrom(a, decl)));
  const decls = new Set([...holders, ...inCallback].flatMap(h => (h.is === 'decl' ? [h.decl] : [])));
  const mine = closers(a).filter(closer => closer.closed.some(origin => concerns(origin, open, decls, callbacks)));
  const live = mine.filter(closer => liveWays(a, closer.call).length > 0);
  if (!mayBeElsewhere && !usedBy(mine, holders) && kept.length === 0) return { is: 'dropped', closedInCallback: live.length > 0 };
  if (!mayBeElsewhere && kept.length > 0 && kept.every(h => h.is === 'decl' && h.weak)) return { is: 'weak' };
  const strangers = mayBeElsewhere || inCallback.some(h => h.is === 'unknown');
  const unsure = strangers || closers(a).some(closer => closer.closed.some(o => o.is === 'unknown') && !mine.includes(closer) && a.fileOf(closer.call)?.language === 'kotlin');
  if (live.length === 0) {
    if (unsure) return { is: 'unknown' };
    if (mine.length > 0) return { is: 'unreached', by: mine };
    return { is: 'never-closed', disconnects: disconnectsOf(a, decls, callbacks) };
  }
  const weak = live.map(closer => weaknessOf(a, closer.call));
  // What one place leaves out, another may take: success here, failure there.
  const both = weak.some(w => w?.is === 'success') && weak.some(w => w?.is === 'failure');
  if (!unsure && !both && weak[0] && weak.every(weakness => weakness !== undefined)) return { is: 'weakly-closed', by: live, why: weak[0] };
  const disconnects = (): boolean => disconnectsOf(a, decls, callbacks).some(call => liveWays(a, call).length > 0);
  if (!unsure && live.every(closer => isOnlyAfterwards(a, closer.call)) && !disconnects()) return { is: 'never-ended', by: live };
  return lost(a, open, holders, callbacks ?? new Set(), live, unsure) ?? { is: 'closed', by: live };
}

/** Links that something does close, but not all of them. */
function lost(a: Analysis, open: Call, holders: readonly Holder[], callbacks: ReadonlySet<Fn>, live: readonly Closer[], unsure: boolean): Verdict | undefined {
  const throughCallback = live.some(closer => closer.closed.some(o => o.is === 'callback-link'));
  const overwriting = overwritingOf(a, open, holders, callbacks, throughCallback);
  if (overwriting && (overwriting.is !== 'possible' || !unsure)) return { is: 'overwritten', how: overwriting, by: live };
  if (unsure) return undefined;
  const forgetting = throughCallback ? undefined : forgettingOf(a, holders, callbacks);
  if (forgetting) return { is: 'forgotten', how: forgetting, by: live };
  return throughCallback ? undefined : leftOpen(a, open, holders, live);
}

/** A link that only this function holds, with a way out past everything that closes it. */
function leftOpen(a: Analysis, open: Call, holders: readonly Holder[], live: readonly Closer[]): Verdict | undefined {
  const at = a.stepsOf(open);
  const isLocal = holders.every(h => h.is === 'decl' && (h.decl.is === 'local' || h.decl.is === 'param'));
  if (!at || !isLocal || live.some(closer => a.stepsOf(closer.call)?.graph !== at.graph)) return undefined;
  const decls = new Set<Decl>(holders.flatMap(h => (h.is === 'decl' ? [h.decl] : [])));
  const stops = { step: (step: Step) => step.node?.kind === 'Call' && closes(a, step.node), edge: (edge: Edge) => isNull(a, edge, decls) };
  if (!at.steps.some(from => escape(at.graph, from, stops))) return undefined;
  const exits = at.graph.steps.flatMap(({ node, next }) => (node && (node.kind === 'Return' || node.kind === 'Throw') && next.some(e => e.to === at.graph.exit || e.to === at.graph.thrown) ? [node] : []));
  const unclosed = exits.filter(exit => at.steps.some(from => wayFrom(from, step => step.node === exit, stops)));
  return { is: 'left-open', by: live, exits: unclosed };
}

function isNull(a: Analysis, edge: Edge, decls: ReadonlySet<Decl>): boolean {
  const guard = edge.when;
  const isLink = (expr: Expr): boolean => expr.kind === 'Call' || originsOf(a, expr).some(o => o.is === 'decl' && decls.has(o.decl));
  if (guard?.is === 'null') return guard.holds && isLink(guard.value);
  if (guard?.is !== 'condition' || guard.test.kind !== 'Binary' || guard.test.right.kind !== 'Literal' || guard.test.right.value !== null) return false;
  return (guard.test.op === '==') === guard.holds && isLink(guard.test.left);
}

/** A local that is not read again, or only called on, keeps nothing: when its function is done, it is gone. */
function isIdle(a: Analysis, decl: Decl): boolean {
  if (decl.is !== 'local' && decl.is !== 'param') return false;
  const fn = decl.is === 'param' ? decl.fn : a.program.enclosingFn(decl.node);
  return a.resolver.readsOf(decl).every(read => !isCaptured(a, read, fn) && !isDisconnected(a, read));
}

function isDisconnected(a: Analysis, read: Expr): boolean {
  const member = a.program.parentOf(read);
  const call = member?.kind === 'Member' && member.object === read ? a.program.parentOf(member) : undefined;
  return call?.kind === 'Call' && roleOf(a, call)?.does.has('disconnects-link') === true;
}

function isCaptured(a: Analysis, read: Expr, fn: Fn | undefined): boolean {
  let inner = a.program.enclosingFn(read);
  while (inner && inner !== fn && a.isInlined(inner)) inner = a.program.enclosingFn(inner);
  return inner !== fn;
}

/** Whether something closes the link through a name that holds its result. */
function usedBy(mine: readonly Closer[], holders: readonly Holder[]): boolean {
  const decls = new Set<Decl>(holders.flatMap(h => (h.is === 'decl' ? [h.decl] : [])));
  return mine.some(closer => closer.closed.some(o => o.is === 'decl' && decls.has(o.decl)));
}

function concerns(origin: Origin, open: Call, decls: ReadonlySet<Decl>, callbacks: ReadonlySet<Fn> | undefined): boolean {
  switch (origin.is) {
    case 'decl': return decls.has(origin.decl);
    case 'made': return origin.call === open;
    case 'callback-link': return callbacks === undefined || callbacks.has(origin.fn);
    default: return false;
  }
}

/** The functions of the callback object that a link is opened with; undefined when it is not known which that is. */
function callbacksOf(a: Analysis, open: Call): ReadonlySet<Fn> | undefined {
  return a.once<Call, ReadonlySet<Fn> | undefined>('link-callbacks', open, undefined, () => {
    const found = new Set<Fn>();
    for (const { value } of open.args) {
      const values = value.kind === 'Name' || value.kind === 'Member' ? [value, ...valuesBehind(a, value)] : [value];
      for (const each of values) {
        const cls = a.resolver.typeOf(each)?.class;
        const platform = cls && a.resolver.platformOf(cls);
        const related = cls ? [cls, ...a.resolver.superclassesOf(cls), ...a.resolver.subclassesOf(cls)] : [];
        if (!cls || !(platform && /Callback$/.test(platform.name)) && !related.some(c => c.functions.some(fn => a.resolver.isPlatformCallback(fn)))) continue;
        for (const one of related) one.functions.forEach(fn => found.add(fn));
      }
    }
    return found.size > 0 ? found : undefined;
  });
}

function valuesBehind(a: Analysis, value: Expr & { kind: 'Name' | 'Member' }): readonly Expr[] {
  const decl = a.resolver.declOf(value);
  return (decl && a.resolver.valuesOf(decl)) ?? [];
}

function linkParams(a: Analysis, fn: Fn): readonly Decl[] {
  const params = a.resolver.isPlatformCallback(fn)?.member.params ?? [];
  return params.flatMap((p, i) => (p.is === 'link' && fn.params[i] ? a.resolver.declFor(fn.params[i]) ?? [] : []));
}

function disconnectsOf(a: Analysis, decls: ReadonlySet<Decl>, callbacks: ReadonlySet<Fn> | undefined): readonly Call[] {
  return callsDoing(a, 'disconnects-link').filter(call => receiverOrigins(a, call).some(origin =>
    (origin.is === 'decl' && decls.has(origin.decl)) || (origin.is === 'callback-link' && callbacks?.has(origin.fn) === true)));
}
