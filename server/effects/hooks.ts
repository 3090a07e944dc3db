/**
 * Functions that a function hands out in an object, and where they are taken from it: `return { read, write }` in a hook,
 * `const { read } = useScale()` in a component.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';

/** Where a property of an object literal that a function returns is read by whoever calls the function. */
export function takenOut(a: Analysis, field: AnyNode & { kind: 'Field' }): readonly Expr[] {
  const maker = makerOf(a, field);
  return maker ? a.resolver.callersOf(maker).flatMap(call => readsAt(a, call, field.name)) : [];
}

/** The function that returns the object literal. */
function makerOf(a: Analysis, field: AnyNode): Fn | undefined {
  const literal = a.program.parentOf(field);
  const object = literal && a.program.parentOf(literal);
  const stmt = object?.kind === 'ObjectExpr' ? a.program.parentOf(object) : undefined;
  return stmt?.kind === 'Return' ? a.program.enclosingFn(stmt) : undefined;
}

function readsAt(a: Analysis, call: Call, name: string): readonly Expr[] {
  const parent = a.program.parentOf(call);
  if (parent?.kind === 'Member' && parent.name === name) return [parent];
  if (parent?.kind !== 'Let') return [];
  return parent.bindings.flatMap(binding => {
    const decl = a.resolver.declFor(parent, binding);
    const reads = decl ? a.resolver.readsOf(decl) : [];
    if (binding.path.length === 1 && binding.path[0] === name) return reads;
    if (binding.path.length > 0) return [];
    return reads.flatMap(read => {
      const member = a.program.parentOf(read);
      return member?.kind === 'Member' && member.object === read && member.name === name ? [member] : [];
    });
  });
}

/** The functions that a call runs: what the resolver knows, and for a name taken out of such an object what was put in. */
export function calledFns(a: Analysis, call: Call): readonly Fn[] {
  const { fns } = a.resolver.calleeOf(call);
  if (fns.length > 0 || call.callee.kind !== 'Name') return fns;
  const decl = a.resolver.declOf(call.callee);
  if (decl?.is !== 'local' || decl.node.kind !== 'Let' || decl.binding?.path.length !== 1 || decl.node.value?.kind !== 'Call') return fns;
  const [name] = decl.binding.path;
  return a.resolver.calleeOf(decl.node.value).fns.flatMap(maker => (typeof name === 'string' ? putInto(a, maker, name) : []));
}

function putInto(a: Analysis, maker: Fn, name: string): readonly Fn[] {
  const found: Fn[] = [];
  if (maker.body) {
    a.eachBelow(maker.body, node => {
      if (node.kind === 'Return' && node.value?.kind === 'ObjectExpr' && a.program.enclosingFn(node) === maker) {
        const { fields, functions } = node.value.body;
        found.push(...functions.filter(fn => fn.name === name), ...fields.filter(field => field.name === name).flatMap(field => (field.initial && a.resolver.functionValue(field.initial)) ?? []));
      }
      return undefined;
    });
  }
  return found;
}
