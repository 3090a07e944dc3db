/** Operations that are started together because their promises are gathered: `Promise.all`, and lists handed to it. */
import type { AnyNode, Call, Expr } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';

/** The `Promise.all` (or sibling) that gathers a call's promise: as its argument, through an array callback or a list. */
export function gatherer(a: Analysis, call: Expr, depth = 0): Call | undefined {
  let below: AnyNode = call;
  for (let node = a.program.parentOf(call); node && depth < 6; below = node, node = a.program.parentOf(node)) {
    switch (node.kind) {
      case 'Call':
        if (isGathering(node) && node.callee !== below) return node;
        if (node.callee.kind === 'Member' && node.callee.name === 'push' && node.callee.object.kind === 'Name') {
          return gatheredLater(a, a.resolver.declOf(node.callee.object), node, depth);
        }
        break;
      case 'Let': return gatheredLater(a, a.resolver.declFor(node, node.bindings[0]), node, depth);
      case 'Assign': return node.target.kind === 'Name' ? gatheredLater(a, a.resolver.declOf(node.target), node, depth) : undefined;
      case 'ExprStmt': case 'Block': case 'Await': return undefined;
      case 'Return': {
        // What an array callback returns is an element of what the array function yields.
        const fn = a.program.enclosingFn(node);
        if (!fn || a.program.parentOf(fn)?.kind !== 'Lambda') return undefined;
        node = fn;
        break;
      }
      default:
    }
  }
  return undefined;
}

function isGathering(call: Call): boolean {
  return call.callee.kind === 'Member' && call.callee.object.kind === 'Name' && call.callee.object.name === 'Promise';
}

function gatheredLater(a: Analysis, decl: Decl | undefined, from: AnyNode, depth: number): Call | undefined {
  for (const read of decl?.is === 'local' ? a.resolver.readsOf(decl) : []) {
    const found = read.span.start > from.span.end ? gatherer(a, read, depth + 1) : undefined;
    if (found) return found;
  }
  return undefined;
}
