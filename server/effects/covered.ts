/**
 * Counts what of a file was understood and what was given up, so that a clean report means something: links whose life is
 * known, operations that are followed to what starts them and to what becomes of their answer, callbacks whose status is
 * judged; and what bears a platform's name without being known to be the platform's.
 */
import type { AnyNode, Call, Expr, File, Fn, Span } from '../ir/ir.js';
import { platformType, platformTypeNames, type Language } from '../catalogue/index.js';
import type { Analysis } from './analysis.js';
import { lifeOf } from './links.js';
import { waysThroughQueues } from './queues.js';
import { concerns } from './relevance.js';
import { callbackNames, namesWithRole } from './role-names.js';
import { roleOf } from './roles.js';
import { startOf } from './starts.js';
import { statusOf } from './status.js';

export interface Covered {
  readonly links: Share;
  readonly operations: Share;
  readonly callbacks: Share;
  /** Calls that bear the name of an operation, on something that is not known. */
  readonly unresolved: readonly Unresolved[];
  readonly capped: number;
}

export interface Share { readonly known: number; readonly unknown: number }

export interface Unresolved { readonly name: string; readonly count: number; readonly at: { readonly path: string; readonly span: Span } }

export function coverageOf(a: Analysis, file: File): Covered {
  const links = { known: 0, unknown: 0 };
  const operations = { known: 0, unknown: 0 };
  const callbacks = { known: 0, unknown: 0 };
  const count = (share: { known: number; unknown: number }, isKnown: boolean): void => { share[isKnown ? 'known' : 'unknown']++; };
  const visit = (node: AnyNode): void => {
    if (node.kind === 'Fn') {
      const status = statusOf(a, node);
      if (status) count(callbacks, status.verdict !== 'unknown');
    }
    const role = node.kind === 'Call' ? roleOf(a, node) : undefined;
    if (node.kind !== 'Call' || !role) return;
    if (role.does.has('opens-link')) count(links, lifeOf(a, node).verdict.is !== 'unknown');
    else if (role.does.has('starts-operation')) count(operations, isFollowed(a, node));
  };
  if (concerns(a, file)) {
    a.eachBelow(file, node => {
      visit(node);
      return undefined;
    });
  }
  const strange = unresolvedIn(a).get(file) ?? [];
  const opening = namesWithRole('opens-link');
  for (const call of strange) count(opening.has(a.calleeName(call)!) ? links : operations, false);
  callbacks.unknown += strangeCallbacksIn(a).get(file) ?? 0;
  return { links, operations, callbacks, unresolved: byName(a, file, strange), capped: [...a.capped].filter(of => a.fileOf(of) === file).length };
}

/** Whether it is known what starts an operation, and what becomes of its answer. */
function isFollowed(a: Analysis, call: Call): boolean {
  if (waysThroughQueues(a, call).some(way => way.start.is === 'outside' && !way.start.known)) return false;
  const start = startOf(a, call);
  return start?.use?.is !== 'unknown' && start?.promise?.is !== 'unknown';
}

function byName(a: Analysis, file: File, calls: readonly Call[]): readonly Unresolved[] {
  const found = new Map<string, Unresolved>();
  for (const call of calls) {
    const name = a.calleeName(call)!;
    const known = found.get(name);
    found.set(name, known ? { ...known, count: known.count + 1 } : { name, count: 1, at: { path: file.path, span: call.span } });
  }
  return [...found.values()];
}

// ---- What is not known --------------------------------------------------

/** Names so general that half of all programs have a method of that name. */
const COMMON = new Set(['connect', 'disconnect', 'close', 'addService']);

/** Member calls by an operation's own, unmistakable name, on something that is not known or comes from a library. */
function unresolvedIn(a: Analysis): ReadonlyMap<File, readonly Call[]> {
  return a.once<string, ReadonlyMap<File, readonly Call[]>>('unresolved', '', new Map(), () => {
    const found = new Map<File, Call[]>();
    for (const name of new Set([...namesWithRole('starts-operation'), ...namesWithRole('opens-link')])) {
      if (COMMON.has(name)) continue;
      for (const call of a.program.callsNamed(name)) {
        const file = isStrange(a, call) ? a.program.fileOf(call) : undefined;
        if (file && isMember(file.language, name)) found.set(file, [...(found.get(file) ?? []), call]);
      }
    }
    for (const calls of found.values()) calls.sort((x, y) => x.span.start - y.span.start);
    return found;
  });
}

/** Whether the platform of that language has such a member at all. */
function isMember(language: Language, name: string): boolean {
  return platformTypeNames(language).some(typeName => {
    const type = platformType(language, typeName);
    return type?.language === language && type.members.some(member => member.name === name && member.does !== undefined);
  });
}

function isStrange(a: Analysis, call: Call): boolean {
  if (call.callee.kind !== 'Member') return false;
  const callee = a.resolver.calleeOf(call);
  if (callee.fns.length > 0 || callee.members.length > 0) return false;
  return !isOurs(a, call.callee.object);
}

/** A class of the project, or a type of the catalogue, that has no such member. */
function isOurs(a: Analysis, object: Expr): boolean {
  const type = a.resolver.typeOf(object);
  return type !== undefined && (type.class !== undefined || type.platform !== undefined || type.fn !== undefined);
}

/** Overrides that bear the name of a callback, in classes with a supertype that is not known. */
function strangeCallbacksIn(a: Analysis): ReadonlyMap<File, number> {
  return a.once<string, ReadonlyMap<File, number>>('strange-callbacks', '', new Map(), () => {
    const found = new Map<File, number>();
    for (const name of callbackNames()) {
      for (const fn of GATT_CALLBACK.test(name) ? a.program.functionsNamed(name) : []) {
        const file = isStrangeCallback(a, fn) ? a.program.fileOf(fn) : undefined;
        if (file) found.set(file, (found.get(file) ?? 0) + 1);
      }
    }
    return found;
  });
}

/** Names that nothing but a GATT callback has. */
const GATT_CALLBACK = /^on(?:Characteristic|Descriptor|ConnectionStateChange|ServicesDiscovered|MtuChanged|ReadRemoteRssi|ReliableWrite|Phy)/;

function isStrangeCallback(a: Analysis, fn: Fn): boolean {
  if (!fn.modifiers.has('override') || a.resolver.isPlatformCallback(fn)) return false;
  const owner = a.program.ownerOf(fn);
  return owner !== undefined && [owner, ...a.resolver.superclassesOf(owner)].some(cls => cls.supertypes.some(({ type }) => {
    const known = a.resolver.typeOfRef(type, cls);
    return known?.class === undefined && known?.platform === undefined;
  }));
}
