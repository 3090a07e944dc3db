/**
 * Which promises an awaited or returned expression stands for: those whose settling it waits for. The way goes through
 * chains, locals, lists that promises are pushed to, and the functions that gather them.
 */
import type { AnyNode, Call, Expr } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { runOf } from './runs.js';

const CHAINS = new Set(['then', 'catch', 'finally']);

export const isChain = (call: Call): boolean => call.callee.kind === 'Member' && CHAINS.has(call.callee.name);

/** An expression without what does not change the object: casts and null checks. */
export function bare(expr: Expr): Expr {
  let inner = expr;
  while (inner.kind === 'Cast' || (inner.kind === 'Unary' && inner.op === '!!')) inner = inner.value;
  return inner;
}

/** Every expression that has settled when this one has. */
export function settledWith(a: Analysis, expr: Expr): ReadonlySet<Expr> {
  return a.once<Expr, ReadonlySet<Expr>>('settled-with', expr, new Set(), () => {
    const found = new Set<Expr>();
    collect(a, expr, found, 0);
    return found;
  });
}

function collect(a: Analysis, expr: Expr, found: Set<Expr>, depth: number): void {
  const value = bare(expr);
  if (depth > 8 || found.has(value)) return;
  found.add(value);
  const more = (next: Expr): void => collect(a, next, found, depth + 1);
  switch (value.kind) {
    case 'Name': case 'Member': {
      const decl = a.resolver.declOf(value);
      if (decl?.is !== 'local' && decl?.is !== 'field') return;
      for (const write of a.resolver.writesTo(decl)) if (write.value) more(write.value);
      if (decl.is === 'field' && decl.node.initial) more(decl.node.initial);
      for (const read of a.resolver.readsOf(decl)) pushedThrough(a, read).forEach(more);
      return;
    }
    case 'Call': return ofCall(a, value, more);
    case 'ListExpr': value.items.forEach(more); return;
    case 'Unary': if (value.op === '...') more(value.value); return;
    case 'Binary': more(value.left); more(value.right); return;
    case 'Assign': case 'Await': more(value.value); return;
    case 'Choose': yieldsOf(a, value).forEach(more); return;
    default: return;
  }
}

function ofCall(a: Analysis, call: Call, more: (next: Expr) => void): void {
  if (isChain(call) && call.callee.kind === 'Member') more(call.callee.object);
  for (const { value } of call.args) {
    if (value.kind !== 'Lambda') { more(value); continue; }
    // `list.map(x => start(x))` yields what its lambda does; `new Promise(…)` is settled by what its lambda calls.
    const run = runOf(a, call, value);
    if (run && (run.runs === 'now-many' || run.runner?.waits === 'resume')) callsOf(a, value).forEach(more);
  }
}

/** The calls in a lambda that runs at once: a promise among them may be what the lambda yields. */
function callsOf(a: Analysis, lambda: Expr & { kind: 'Lambda' }): readonly Expr[] {
  const found: Expr[] = [];
  if (lambda.fn.body) {
    a.eachBelow(lambda.fn.body, node => {
      if (node.kind === 'Call') found.push(node);
      return node.kind === 'Fn' && !a.isInlined(node) ? 'skip' : undefined;
    });
  }
  return found;
}

function yieldsOf(a: Analysis, choose: Expr): readonly Expr[] {
  const found: Expr[] = [];
  a.eachBelow(choose, (node: AnyNode) => {
    if (node.kind === 'Yield') found.push(node.value);
    return node.kind === 'Fn' ? 'skip' : undefined;
  });
  return found;
}

/** `promises.push(start())`: what was pushed to a list that is read here. */
function pushedThrough(a: Analysis, read: Expr): readonly Expr[] {
  const member = a.program.parentOf(read);
  const call = member?.kind === 'Member' && member.object === read && member.name === 'push' ? a.program.parentOf(member) : undefined;
  return call?.kind === 'Call' ? call.args.map(arg => arg.value) : [];
}
