/**
 * How a promise that nobody waits for could be waited for where it stands, so that its failure has somewhere to go: by
 * `await` in a function whose own promise is looked after, by `return` into a chain that is.
 */
import type { AnyNode, Block, Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { outermost } from './outermost.js';
import { promiseUse } from './rejections.js';
import { runOfLambda } from './runs.js';

export type Join = 'await' | 'return';

/** Best first; none where only a handler of its own would help. */
export function joinsAt(a: Analysis, call: Call): readonly Join[] {
  const whole = floatingExpr(a, call);
  const fn = a.program.enclosingFn(whole);
  const home = a.home(whole);
  if (!fn || !home || home.kind !== 'Fn') return [];
  if (fn === home && fn.modifiers.has('async')) return isLookedAfter(a, fn, whole) ? ['await'] : [];
  const stmt = a.program.parentOf(whole);
  const isLast = stmt?.kind === 'ExprStmt' && fn.body?.stmts.at(-1) === stmt;
  return isLast && joinsChain(a, fn) ? ['return'] : [];
}

/** The widest expression that is the promise nobody waits for: the call, or the chain that it begins. */
export function floatingExpr(a: Analysis, call: Call): Expr {
  let at: Expr = call;
  for (;;) {
    const member = a.program.parentOf(at);
    const next: AnyNode | undefined = member?.kind === 'Member' && member.object === at && /^(?:then|catch|finally)$/.test(member.name) ? a.program.parentOf(member) : undefined;
    if (next?.kind !== 'Call' || next.callee !== member) return at;
    at = next;
  }
}

/** A failure in the function has an answer: a `try` around the place, or callers that all take its promise. */
function isLookedAfter(a: Analysis, fn: Fn, at: Expr): boolean {
  if (isTried(a, at, fn)) return true;
  if (outermost(a, fn)) return false;
  return a.resolver.callersOf(fn).every(call => promiseUse(a, call).is !== 'floating');
}

function isTried(a: Analysis, at: AnyNode, home: Fn | Block): boolean {
  for (let node: AnyNode | undefined = at, below = at; node && node !== home; below = node, node = a.program.parentOf(node)) {
    if (node.kind === 'Try' && node.body === below && node.catches.length > 0) return true;
  }
  return false;
}

/** A braced arrow in a chain: what it returns is part of the chain. */
function joinsChain(a: Analysis, fn: Fn): boolean {
  const run = runOfLambda(a, fn);
  if (run?.runner?.yields !== 'promise-of-lambda' && run?.runner?.yields !== 'receiver') return false;
  const use = promiseUse(a, run.call);
  return use.is === 'caught' || use.is === 'forwarded';
}
