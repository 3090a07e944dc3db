/** Counts what of a file was understood and what was given up, so that a clean report means something. */
import type { Call, File, Span } from '../ir/ir.js';
import { platformType, platformTypeNames, type Language } from '../catalogue/index.js';
import type { Analysis } from './analysis.js';
import { lifeOf } from './links.js';
import { waysThroughQueues } from './queues.js';
import { roleOf } from './roles.js';
import { statusOf } from './status.js';

export interface Covered {
  readonly links: Share;
  readonly operations: Share;
  readonly callbacks: Share;
  /** Calls that bear the name of an operation, on something that is not known. */
  readonly unresolved: readonly { readonly name: string; readonly count: number; readonly at: { readonly path: string; readonly span: Span } }[];
  readonly capped: number;
}

export const NOTHING_COVERED: Covered = { links: { known: 0, unknown: 0 }, operations: { known: 0, unknown: 0 }, callbacks: { known: 0, unknown: 0 }, unresolved: [], capped: 0 };

export interface Share { readonly known: number; readonly unknown: number }

export function coverageOf(a: Analysis, file: File): Covered {
  const links = { known: 0, unknown: 0 };
  const operations = { known: 0, unknown: 0 };
  const callbacks = { known: 0, unknown: 0 };
  const unresolved = new Map<string, { name: string; count: number; at: { path: string; span: Span } }>();
  a.eachBelow(file, node => {
    if (node.kind === 'Fn') {
      const status = statusOf(a, node);
      if (status) callbacks[status.verdict === 'unknown' ? 'unknown' : 'known']++;
    }
    if (node.kind !== 'Call') return undefined;
    const role = roleOf(a, node);
    if (role?.does.has('opens-link')) links[lifeOf(a, node).verdict.is === 'unknown' ? 'unknown' : 'known']++;
    else if (role?.does.has('starts-operation')) operations[waysThroughQueues(a, node).some(way => way.start.is === 'outside' && !way.start.known) ? 'unknown' : 'known']++;
    else if (!role && isUnresolved(a, node, file.language)) {
      operations.unknown++;
      const name = a.calleeName(node)!;
      const known = unresolved.get(name);
      if (known) known.count++;
      else unresolved.set(name, { name, count: 1, at: { path: file.path, span: node.span } });
    }
    return undefined;
  });
  const capped = [...a.capped].filter(of => a.fileOf(of) === file).length;
  return { links, operations, callbacks, unresolved: [...unresolved.values()], capped };
}

/** A member call by an operation's own, unmistakable name whose receiver has no known type. */
function isUnresolved(a: Analysis, call: Call, language: Language): boolean {
  if (call.callee.kind !== 'Member' || !operationNames(language).has(call.callee.name)) return false;
  const callee = a.resolver.calleeOf(call);
  return callee.fns.length === 0 && callee.members.length === 0 && callee.receiver?.ty === undefined;
}

/** Names so general that half of all programs have a method of that name. */
const COMMON = new Set(['connect', 'disconnect', 'close', 'addService', 'startScan', 'startDiscovery']);
const names = new Map<Language, ReadonlySet<string>>();

function operationNames(language: Language): ReadonlySet<string> {
  let found = names.get(language);
  if (!found) {
    const all = platformTypeNames(language).flatMap(type => platformType(language, type)?.members ?? []);
    found = new Set(all.filter(m => m.does?.includes('starts-operation') && !COMMON.has(m.name)).map(m => m.name));
    names.set(language, found);
  }
  return found;
}
