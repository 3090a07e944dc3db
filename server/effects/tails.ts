/**
 * Promise tails that one failure spoils for good: `this.tail = this.tail.then(write)`, where nothing between one operation
 * and the next catches. Every later operation is then refused with the first one's error, without being tried.
 */
import type { AnyNode, Assign, Call, Expr, File, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { escapes, mayReject, promiseUse } from './rejections.js';

/** The `then` calls at which a tail of this file is lengthened so. */
export function poisonedTailsIn(a: Analysis, file: File): readonly Call[] {
  const found: Call[] = [];
  a.eachBelow(file, node => {
    const then = node.kind === 'Assign' ? lengthens(a, node) : undefined;
    if (then && isNeverHealed(a, node as Assign) && mayFail(a, then)) found.push(then);
    return undefined;
  });
  return found;
}

/** The `then` by which an assignment puts an operation behind the tail that it assigns to. */
function lengthens(a: Analysis, assign: Assign): Call | undefined {
  return assign.op === undefined && outlives(a, assign.target) ? thenOn(a, valueOf(a, assign.value), assign.target) : undefined;
}

/** A field, a variable of a function further out, or what a reference object of a component holds (`queue.current`). */
function outlives(a: Analysis, target: Expr): boolean {
  if (target.kind === 'Member') return true;
  const decl = target.kind === 'Name' ? a.resolver.declOf(target) : undefined;
  return decl?.is === 'field' || (decl?.is === 'local' && a.program.enclosingFn(decl.node) !== a.program.enclosingFn(target));
}

function thenOn(a: Analysis, value: Expr, tail: Expr): Call | undefined {
  if (value.kind !== 'Call' || value.callee.kind !== 'Member' || value.callee.name !== 'then' || value.args.length !== 1) return undefined;
  const { object } = value.callee;
  if (isSamePlace(a, object, tail)) return value;
  return thenOn(a, object, tail) && value;
}

/** The same variable, or the same property of it. */
function isSamePlace(a: Analysis, x: Expr, y: Expr): boolean {
  if (x.kind === 'This') return y.kind === 'This';
  if (x.kind === 'Member') return y.kind === 'Member' && x.name === y.name && isSamePlace(a, x.object, y.object);
  return x.kind === 'Name' && y.kind === 'Name' && x.name === y.name && a.resolver.declOf(x) === a.resolver.declOf(y);
}

/** What a local was set to, for one that is set once. */
function valueOf(a: Analysis, expr: Expr): Expr {
  if (expr.kind === 'Cast') return valueOf(a, expr.value);
  const decl = expr.kind === 'Name' ? a.resolver.declOf(expr) : undefined;
  const [write, ...more] = decl?.is === 'local' ? a.resolver.writesTo(decl) : [];
  return write?.value && more.length === 0 ? write.value : expr;
}

/** No other assignment gives the tail a promise that does not carry the failure on. */
function isNeverHealed(a: Analysis, assign: Assign): boolean {
  const scope = a.program.enclosingClass(assign) ?? a.fileOf(assign);
  let healed = scope === undefined;
  a.eachBelow(scope ?? assign, node => {
    if (node.kind === 'Assign' && isSamePlace(a, node.target, assign.target) && !lengthens(a, node)) healed = true;
    return healed ? 'skip' : undefined;
  });
  return !healed;
}

/** The operation behind the tail may reject: it is written here, or given in by somebody whose operation may. */
function mayFail(a: Analysis, then: Call): boolean {
  const operation = then.args[0]!.value;
  const fns = a.resolver.functionValue(operation);
  if (fns !== undefined && fns.length > 0) return fns.some(fn => rejects(a, fn));
  const decl = operation.kind === 'Name' ? a.resolver.declOf(operation) : undefined;
  return decl?.is === 'param' && givenTo(a, decl.fn, decl.node).some(fn => rejects(a, fn));
}

/** The function given in rejects by itself, or calls a function that was given to the one around it. */
function rejects(a: Analysis, fn: Fn): boolean {
  if (escapes(a, fn).length > 0 || yields(a, fn)) return true;
  const around = a.program.enclosingFn(fn);
  if (!around) return false;
  return around.params.some(param => {
    const decl = a.resolver.declFor(param);
    const isCalled = decl !== undefined && a.resolver.readsOf(decl).some(read => isRunIn(a, read, fn));
    return isCalled && givenTo(a, around, param).some(given => escapes(a, given).length > 0 || yields(a, given));
  });
}

/** An arrow that yields the promise of an operation, whoever takes it. */
function yields(a: Analysis, fn: Fn): boolean {
  return (fn.body?.stmts ?? []).some(stmt => stmt.kind === 'Return' && stmt.value?.kind === 'Call' && mayReject(a, stmt.value) && promiseUse(a, stmt.value).is !== 'caught');
}

function isRunIn(a: Analysis, read: Expr, fn: Fn): boolean {
  const parent = a.program.parentOf(read);
  if (parent?.kind !== 'Call' || parent.callee !== read || promiseUse(a, parent).is === 'caught') return false;
  for (let node: AnyNode | undefined = read; node; node = a.program.parentOf(node)) {
    if (node.kind === 'Try' && node.catches.length > 0) return false;
    if (node === fn) return true;
  }
  return false;
}

function givenTo(a: Analysis, fn: Fn, param: Fn['params'][number]): readonly Fn[] {
  return a.resolver.callersOf(fn).flatMap(call => {
    const value = a.resolver.argumentFor(call, fn, param);
    return value ? a.resolver.functionValue(value) ?? [] : [];
  });
}
