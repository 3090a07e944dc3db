/**
 * How the code around a place would answer a failure there: the continuation it could resume, the promise it could
 * reject, the function with which its siblings give up. A fix takes the first that is known; where none is, it asks.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { isLogCall, roleOf } from './roles.js';
import { statusOf } from './status.js';

export type WayOn =
  /** Resume the continuation with an exception. */
  | { readonly is: 'resume'; readonly name: string }
  /** Complete the deferred exceptionally; the expression that names it. */
  | { readonly is: 'complete'; readonly target: Expr }
  /** Call `reject` of the promise that is being made. */
  | { readonly is: 'reject'; readonly name: string }
  /** Call the function with which other failures are answered: with a text, the error, or nothing. */
  | { readonly is: 'call'; readonly callee: Expr; readonly takes: 'text' | 'error' | 'nothing' }
  /** The caller takes a boolean and is told false. */
  | { readonly is: 'false' }
  /** The caller, or whoever awaits, gets an exception. */
  | { readonly is: 'throw' }
  /** End the link, which brings the disconnected callback; the expression of the link. */
  | { readonly is: 'disconnect'; readonly link: Expr };

/** Best first. */
export function waysOnAt(a: Analysis, node: AnyNode, link?: Expr): readonly WayOn[] {
  const found: WayOn[] = [];
  const fn = a.program.enclosingFn(node);
  for (let outer = fn; outer; outer = a.program.enclosingFn(outer)) {
    const known = ofEnclosing(a, outer);
    if (known) found.push(known);
  }
  found.push(...siblingsAnswer(a, node));
  const home = a.home(node);
  if (home?.kind === 'Fn' && fn === home && home.result?.name === 'boolean') found.push({ is: 'false' });
  if (home?.kind === 'Fn' && (home.modifiers.has('suspend') || home.modifiers.has('async'))) found.push({ is: 'throw' });
  if (link) found.push({ is: 'disconnect', link });
  return found;
}

const CONTINUATIONS = new Set(['Continuation', 'CancellableContinuation']);

/** A continuation or promise executor that is being served. */
function ofEnclosing(a: Analysis, fn: Fn): WayOn | undefined {
  for (const param of fn.params) {
    if (param.name !== '' && CONTINUATIONS.has(a.resolver.typeOfParam(param)?.name ?? '')) return { is: 'resume', name: param.name };
  }
  const lambda = a.program.parentOf(fn);
  const call = lambda && a.program.parentOf(lambda);
  const reject = fn.params[1];
  if (call?.kind === 'Call' && call.construct && a.calleeName(call) === 'Promise' && reject && reject.name !== '') return { is: 'reject', name: reject.name };
  return undefined;
}

/** The call that most failure branches and catch blocks of the class (or module) make. */
function siblingsAnswer(a: Analysis, node: AnyNode): readonly WayOn[] {
  const scope = a.program.enclosingClass(node) ?? a.fileOf(node);
  if (!scope) return [];
  const answers = a.once<AnyNode, readonly WayOn[]>('failure-answers', scope, [], () => {
    const count = new Map<string, { way: WayOn; times: number }>();
    for (const call of failureCalls(a, scope)) {
      const way = asWay(a, call);
      if (!way) continue;
      const key = `${a.calleeName(call)} ${way.is === 'call' ? way.takes : way.is}`;
      const known = count.get(key);
      if (known) known.times++;
      else count.set(key, { way, times: 1 });
    }
    return [...count.values()].sort((x, y) => y.times - x.times).map(it => it.way);
  });
  return answers.slice(0, 2);
}

/** Calls in branches that a failed status leads to, and in catch blocks. */
function failureCalls(a: Analysis, scope: AnyNode): readonly Call[] {
  const found: Call[] = [];
  a.eachBelow(scope, node => {
    if (node.kind === 'Try') for (const c of node.catches) c.body.stmts.forEach(stmt => { if (stmt.kind === 'ExprStmt' && stmt.expr.kind === 'Call') found.push(stmt.expr); });
    if (node.kind === 'Fn') {
      const status = statusOf(a, node);
      const graph = status?.verdict === 'looked-at' ? a.graph(node) : undefined;
      for (const step of graph?.steps ?? []) {
        for (const edge of step.next) {
          const guard = edge.when;
          if (guard?.is !== 'condition' || guard.test.kind !== 'Binary' || a.resolver.constants.whole(guard.test.right) !== 0) continue;
          const failed = (guard.test.op === '!=') === guard.holds && (guard.test.op === '!=' || guard.test.op === '==');
          if (failed) firstCalls(a, edge.to.node, found);
        }
      }
    }
    return undefined;
  });
  return found;
}

/** The statement-level calls of the block that a branch begins. */
function firstCalls(a: Analysis, node: AnyNode | undefined, found: Call[]): void {
  for (let up = node; up; up = a.program.parentOf(up)) {
    if (up.kind !== 'Block') continue;
    for (const stmt of up.stmts) if (stmt.kind === 'ExprStmt' && stmt.expr.kind === 'Call') found.push(stmt.expr);
    return;
  }
}

function asWay(a: Analysis, call: Call): WayOn | undefined {
  if (isLogCall(a, call) || roleOf(a, call)) return undefined;
  const { callee } = call;
  const own = callee.kind === 'Name' || (callee.kind === 'Member' && callee.object.kind === 'This' && callee.object.of === 'this');
  if (!own || a.resolver.calleeOf(call).fns.length === 0) return undefined;
  if (call.args.length === 0) return { is: 'call', callee, takes: 'nothing' };
  const [arg, more] = call.args;
  if (more || !arg) return undefined;
  const { value } = arg;
  if (value.kind === 'Template' || typeof a.resolver.constants.text(value) === 'string') return { is: 'call', callee, takes: 'text' };
  const decl = value.kind === 'Name' ? a.resolver.declOf(value) : undefined;
  return decl?.is === 'local' && decl.node.kind === 'Try' ? { is: 'call', callee, takes: 'error' } : undefined;
}
