/**
 * How the code around a place would answer a failure there: the continuation it could resume, the promise it could
 * reject, the function with which its siblings give up, the one that starts the next operation. A fix takes the first
 * that is known; where none is, it asks. How each is written is `engine/answers.ts`.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { closers } from './closing.js';
import { answersOf } from './failure-answers.js';
import { isOptional } from './optional.js';

export type WayOn =
  /** Resume what waits with an exception; `boolean`: it waits for one, and is told false. */
  | { readonly is: 'resume' | 'complete'; readonly target: Expr; readonly boolean: boolean; readonly optional: boolean }
  /** Call `reject` of the promise that is being made. */
  | { readonly is: 'reject'; readonly name: string }
  /** Call the function with which other failures are answered, or with which every completion ends. */
  | { readonly is: 'call'; readonly callee: Expr; readonly takes: Taken }
  /** The caller takes a boolean and is told false. */
  | { readonly is: 'false' }
  /** The caller, or whoever awaits, gets an exception. */
  | { readonly is: 'throw' }
  /** End the link, which brings the disconnected callback. */
  | { readonly is: 'disconnect'; readonly link: Link; readonly optional: boolean }
  /** Give the link back: nothing more will come of it. */
  | { readonly is: 'close'; readonly link: Link; readonly optional: boolean };

/** The expression of the link; `receiver`: the implicit receiver of the place. */
export type Link = Expr | 'receiver';

/** What a function that answers failures is given. */
export type Taken = 'text' | 'error' | 'status' | 'nothing';

/** Best first. `link`: the expression of the link, if at hand. */
export function waysOnAt(a: Analysis, node: AnyNode, link?: Link): readonly WayOn[] {
  const found: WayOn[] = [...enclosing(a, node), ...awaited(a, node), ...mirrored(a, node)];
  const caller = ofCaller(a, node);
  if (caller) return [...found, caller];
  found.push(...answersOf(a, node));
  if (link) found.push({ is: endOf(a), link, optional: link !== 'receiver' && isOptional(a, link) });
  return found;
}

/** Ending the link brings the callback that closes it; where nothing ever closes, the fix has to. */
export function endOf(a: Analysis): 'disconnect' | 'close' {
  return closers(a).length > 0 ? 'disconnect' : 'close';
}

/** Whoever called takes an answer: anything else would let it believe in a success. */
function ofCaller(a: Analysis, node: AnyNode): WayOn | undefined {
  const home = a.home(node);
  if (home?.kind !== 'Fn' || a.program.enclosingFn(node) !== home || home === node) return undefined;
  if (home.name !== undefined && home.result?.name === 'boolean') return { is: 'false' };
  return home.modifiers.has('suspend') || home.modifiers.has('async') ? { is: 'throw' } : undefined;
}

// ---- What is being served -----------------------------------------------

const CONTINUATIONS = new Set(['Continuation', 'CancellableContinuation']);
const DEFERREDS = new Set(['CompletableDeferred']);

/** A continuation or promise executor whose lambda the place stands in. */
function enclosing(a: Analysis, node: AnyNode): readonly WayOn[] {
  const found: WayOn[] = [];
  for (let fn = a.program.enclosingFn(node); fn; fn = a.program.enclosingFn(fn)) {
    for (const param of fn.params) {
      const type = param.name === '' ? undefined : a.resolver.typeOfParam(param);
      if (type && CONTINUATIONS.has(type.name)) {
        found.push({ is: 'resume', target: { kind: 'Name', span: { start: -1, end: -1 }, name: param.name }, boolean: type.args[0]?.name === 'boolean', optional: false });
      }
    }
    const lambda = a.program.parentOf(fn);
    const call = lambda && a.program.parentOf(lambda);
    const reject = fn.params[1];
    if (call?.kind === 'Call' && call.construct && a.calleeName(call) === 'Promise' && reject && reject.name !== '') found.push({ is: 'reject', name: reject.name });
  }
  return found;
}

/** A deferred that the function goes on to await. */
function awaited(a: Analysis, node: AnyNode): readonly WayOn[] {
  const home = a.home(node);
  const found: WayOn[] = [];
  a.eachBelow(home ?? node, below => {
    if (below.kind === 'Call' && below.span.start > node.span.start && below.callee.kind === 'Member' && below.callee.name === 'await') push(a, below.callee.object, found);
    return undefined;
  });
  return found;
}

/** What a completion hands its success to can be told of a failure as well. */
function mirrored(a: Analysis, node: AnyNode): readonly WayOn[] {
  const fn = node.kind === 'Fn' ? node : undefined;
  const found: WayOn[] = [];
  if (fn?.body) {
    a.eachBelow(fn.body, below => {
      if (below.kind === 'Call' && below.callee.kind === 'Member' && /^(?:complete|resume)$/.test(below.callee.name)) push(a, below.callee.object, found);
      return undefined;
    });
  }
  return found;
}

function push(a: Analysis, target: Expr, found: WayOn[]): void {
  if (target.kind !== 'Name' && target.kind !== 'Member') return;
  const type = a.resolver.typeOf(target);
  if (!type || found.some(way => 'target' in way && sameName(way.target, target))) return;
  const common = { target, boolean: type.args[0]?.name === 'boolean', optional: isOptional(a, target) };
  if (CONTINUATIONS.has(type.name)) found.push({ is: 'resume', ...common });
  if (DEFERREDS.has(type.name)) found.push({ is: 'complete', ...common });
}

const sameName = (x: Expr, y: Expr): boolean => (x.kind === 'Name' || x.kind === 'Member') && (y.kind === 'Name' || y.kind === 'Member') && x.name === y.name;

/** What a fix may call at a place: a function that is a member around it, at top level, or in a block around it. */
export function isReachable(a: Analysis, target: Fn, node: AnyNode): boolean {
  const holder = a.program.parentOf(target);
  const at = holder?.kind === 'LocalDecl' || holder?.kind === 'Lambda' ? a.program.parentOf(holder) : holder;
  for (let up: AnyNode | undefined = node; up; up = a.program.parentOf(up)) {
    if (up === at || (at?.kind === 'Let' && up === a.program.parentOf(at))) return true;
    // A nested class has no outer object.
    if (up.kind === 'Class' && up.form !== 'anonymous' && !up.modifiers.has('inner') && at?.kind === 'Class') return false;
  }
  return at?.kind === 'File' && a.fileOf(node) === at;
}

/** The statement-level calls of a block. */
export function statementCalls(stmts: readonly AnyNode[]): readonly Call[] {
  return stmts.flatMap(stmt => (stmt.kind === 'ExprStmt' && stmt.expr.kind === 'Call' ? [stmt.expr] : []));
}
