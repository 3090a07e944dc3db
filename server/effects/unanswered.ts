/**
 * Operations that somebody waits for, and whose failure reaches nobody: the function that awaits them is run by something
 * that drops its promise, or a chain has a path for success alone. A promise that nobody waits for at all is `starts.ts`.
 */
import type { Block, Call, File, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { startsIn, type Start } from './starts.js';
import { escapes, mayReject } from './rejections.js';
import { outermost, type Outermost } from './outermost.js';
import { poisonedTailsIn } from './tails.js';

export interface Unanswered {
  /** The first call whose rejection leaves the function. */
  readonly call: Call;
  /** The others, in order. */
  readonly also: readonly Call[];
  readonly home: Fn | Block | undefined;
  /** What drops the failure; `open-chain`: a `then` without a second path; `tail`: every later operation gets it. */
  readonly run: Outermost | { readonly is: 'open-chain'; readonly end: Call } | { readonly is: 'tail' };
}

export function unansweredIn(a: Analysis, file: File): readonly Unanswered[] {
  if (file.language !== 'typescript') return [];
  const homes: (Fn | Block)[] = [file.body];
  a.eachBelow(file, node => {
    if (node.kind === 'Fn' && node.body && node.modifiers.has('async')) homes.push(node);
    return undefined;
  });
  return [...openChains(a, file), ...homes.flatMap(home => ofHome(a, home)), ...poisonedTailsIn(a, file).map(call => ({ call, also: [], home: a.home(call), run: { is: 'tail' } as const }))];
}

function ofHome(a: Analysis, home: Fn | Block): readonly Unanswered[] {
  const run = outermost(a, home);
  // A link of a chain whose first operation is reported for the whole of it.
  if (!run || (run.is === 'chain' && run.at?.kind === 'Call' && mayReject(a, rootOf(run.at)))) return [];
  const [call, ...also] = escapes(a, home);
  return call ? [{ call, also, home, run }] : [];
}

/** One finding a chain: its first operation, whatever follows. */
function openChains(a: Analysis, file: File): readonly Unanswered[] {
  const byEnd = new Map<Call, Start[]>();
  for (const start of startsIn(a, file)) {
    if (start.promise?.is !== 'floating' || !start.promise.chained || start.promise.deliberate) continue;
    const end = lastOf(a, start.promise.chained);
    byEnd.set(end, [...(byEnd.get(end) ?? []), start]);
  }
  return [...byEnd].map(([end, starts]) => {
    const [first, ...also] = starts.sort((x, y) => x.call.span.end - y.call.span.end);
    return { call: first!.call, also: also.map(start => start.call), home: a.home(first!.call), run: { is: 'open-chain', end } };
  });
}

const LINKS = /^(?:then|catch|finally)$/;

/** The call at which a chain begins: `a.b().then(…).then(…)` at `a.b()`. */
function rootOf(call: Call): Call {
  let root = call;
  while (root.callee.kind === 'Member' && LINKS.test(root.callee.name) && root.callee.object.kind === 'Call') root = root.callee.object;
  return root;
}

function lastOf(a: Analysis, call: Call): Call {
  let last = call;
  for (;;) {
    const member = a.program.parentOf(last);
    const next = member?.kind === 'Member' && LINKS.test(member.name) ? a.program.parentOf(member) : undefined;
    if (next?.kind !== 'Call') return last;
    last = next;
  }
}
