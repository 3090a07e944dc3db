/**
 * What becomes of a value: whether anybody looks at it. The way goes up from the expression through everything that only
 * hands it on (arms, elvis, lambdas whose value is yielded, locals, parameters of the project's functions) until
 * somebody tests it, keeps it, or nobody takes it.
 *
 * It follows plain values; a promise is more than its value and has `rejections.ts`.
 */
import type { AnyNode, Call, Expr, Fn, Span } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { isLogCall } from './roles.js';
import { runOf, runOfLambda } from './runs.js';

export type Use =
  /** Nobody takes it. `how` says what dropped it, for the message. */
  | { readonly is: 'discarded'; readonly how: Drop; readonly at?: Span; readonly deliberate: boolean }
  | { readonly is: 'tested' }
  | { readonly is: 'returned'; readonly from: Fn }
  | { readonly is: 'passed' }
  | { readonly is: 'stored' }
  | { readonly is: 'logged'; readonly at?: Span }
  | { readonly is: 'unknown' };

export type Drop = 'statement' | 'never-read' | 'lambda-dropped' | 'parameter-ignored';

/** Uses in the order of how much somebody looks at the value: one look is enough. */
const WEIGHT: Record<Use['is'], number> = { unknown: 6, tested: 5, passed: 4, stored: 3, returned: 2, logged: 1, discarded: 0 };

const strongest = (uses: readonly Use[], none: Use): Use =>
  uses.reduce((best, use) => (WEIGHT[use.is] > WEIGHT[best.is] ? use : best), uses[0] ?? none);

export function useOf(a: Analysis, expr: Expr): Use {
  return a.once<Expr, Use>('use', expr, { is: 'unknown' }, () => climb(a, expr));
}

function climb(a: Analysis, expr: Expr): Use {
  const parent = a.program.parentOf(expr);
  if (!parent) return { is: 'unknown' };
  switch (parent.kind) {
    case 'ExprStmt': return { is: 'discarded', how: 'statement', deliberate: parent.deliberate === true };
    case 'Return': return returned(a, parent);
    case 'Let': return bound(a, parent.bindings.length === 1 && parent.bindings[0]!.path.length === 0 ? a.resolver.declFor(parent, parent.bindings[0]) : undefined);
    case 'Assign': return assigned(a, parent, expr);
    case 'Field': return bound(a, a.resolver.declFor(parent));
    case 'Branch': case 'Loop': return { is: 'tested' };
    case 'Yield': return yielded(a, parent);
    case 'Unary': return parent.op === 'void' ? { is: 'discarded', how: 'statement', deliberate: true } : useOf(a, parent);
    case 'Binary':
      if (parent.op === '&&' || parent.op === '||') return parent.left === expr ? { is: 'tested' } : useOf(a, parent);
      return useOf(a, parent);
    case 'Is': case 'Cast': case 'Choose': return useOf(a, parent);
    case 'Template': return useOf(a, parent);
    case 'Call': return inCall(a, parent, expr);
    case 'Member': return asReceiver(a, parent, expr);
    case 'Throw': case 'Index': case 'ListExpr': case 'EnumEntry': case 'Param': case 'Emit': case 'Await': return { is: 'passed' };
    default: return { is: 'unknown' };
  }
}

/** The value of an arm belongs to the `Choose` around it. */
function yielded(a: Analysis, node: AnyNode): Use {
  for (let up = a.program.parentOf(node); up; up = a.program.parentOf(up)) {
    if (up.kind === 'Choose') return useOf(a, up);
    if (up.kind === 'Fn') break;
  }
  return { is: 'unknown' };
}

function returned(a: Analysis, stmt: AnyNode & { kind: 'Return' }): Use {
  const fn = returnsFrom(a, stmt);
  if (!fn) return { is: 'unknown' };
  const holder = a.program.parentOf(fn);
  if (holder?.kind !== 'Lambda') {
    const declared = fn.result?.name;
    // `fun onClick(): Unit = gatt.read(c)` does not compile; a setter or constructor has no value to give.
    return declared === 'void' ? { is: 'discarded', how: 'statement', deliberate: false } : { is: 'returned', from: fn };
  }
  const run = runOfLambda(a, fn);
  if (run) {
    if (run.through) return throughParam(a, run.through.param);
    if (run.value === 'dropped') return { is: 'discarded', how: 'lambda-dropped', at: run.call.span, deliberate: false };
    if (run.value === 'tested') return { is: 'tested' };
    if (run.value === 'yielded' && run.runner?.yields === 'lambda') return useOf(a, run.call);
    if (run.value === 'yielded' && run.runner?.yields === 'lambda-or-null') return useOf(a, run.call);
    return { is: 'passed' };
  }
  const given = a.program.parentOf(holder);
  // A lambda kept in a local is as good as the calls of it; anything else may be asked for its value.
  return given?.kind === 'Call' && a.resolver.calleeOf(given).complete === false ? { is: 'unknown' } : { is: 'passed' };
}

/** The function or lambda that a `return` leaves. */
function returnsFrom(a: Analysis, stmt: AnyNode & { kind: 'Return' }): Fn | undefined {
  const kotlin = a.fileOf(stmt)?.language === 'kotlin';
  for (let fn = a.program.enclosingFn(stmt); fn; fn = a.program.enclosingFn(fn)) {
    const holder = a.program.parentOf(fn);
    if (holder?.kind !== 'Lambda') return fn;
    if (stmt.implicit || !kotlin) return fn;
    const call = a.program.parentOf(holder);
    const name = call?.kind === 'Call' ? a.calleeName(call) : undefined;
    if (stmt.label !== undefined && (stmt.label === holder.label || stmt.label === name)) return fn;
  }
  return undefined;
}

/** How the project's function uses what the lambda that it was given yields. */
function throughParam(a: Analysis, param: Fn['params'][number]): Use {
  const decl = a.resolver.declFor(param);
  if (!decl) return { is: 'unknown' };
  const uses = a.resolver.readsOf(decl).map((read): Use => {
    const up = a.program.parentOf(read);
    const invoked = up?.kind === 'Call' && up.callee === read ? up
      : up?.kind === 'Member' && up.name === 'invoke' ? a.program.parentOf(up) : undefined;
    if (invoked?.kind === 'Call') return useOf(a, invoked);
    if (up?.kind === 'Call') {
      const run = runOf(a, up, read);
      return run?.value === 'dropped' ? { is: 'discarded', how: 'lambda-dropped', at: up.span, deliberate: false } : { is: 'passed' };
    }
    return { is: 'passed' };
  });
  return strongest(uses, { is: 'unknown' });
}

/** A value bound to a name: as much looked at as the name's reads are. */
function bound(a: Analysis, decl: Decl | undefined): Use {
  if (!decl) return { is: 'stored' };
  const reads = a.resolver.readsOf(decl);
  if (reads.length === 0) return decl.is === 'local' ? { is: 'discarded', how: 'never-read', deliberate: false } : { is: 'stored' };
  const uses = reads.map(read => useOf(a, read));
  if (decl.is !== 'local') return uses.every(use => use.is === 'logged' || use.is === 'discarded') && uses.some(use => use.is === 'logged') ? { is: 'logged' } : { is: 'stored' };
  return strongest(uses.map(use => (use.is === 'discarded' ? { is: 'discarded', how: 'never-read', deliberate: false } : use)), { is: 'unknown' });
}

function assigned(a: Analysis, assign: Expr & { kind: 'Assign' }, expr: Expr): Use {
  if (assign.value !== expr) return { is: 'passed' };
  if (assign.target.kind !== 'Name' && assign.target.kind !== 'Member') return { is: 'stored' };
  return bound(a, a.resolver.declOf(assign.target));
}

function inCall(a: Analysis, call: Call, expr: Expr): Use {
  if (call.callee === expr) return { is: 'passed' };
  if (isLogCall(a, call)) return { is: 'logged', at: call.span };
  const { fns, complete } = a.resolver.calleeOf(call);
  if (fns.length === 0 || !complete) return { is: 'passed' };
  return strongest(fns.map((fn): Use => {
    const param = fn.params.find(p => a.resolver.argumentFor(call, fn, p) === expr);
    const decl = param && a.resolver.declFor(param);
    if (!fn.body || !decl) return { is: 'passed' };
    const reads = a.resolver.readsOf(decl);
    if (reads.length === 0) return { is: 'discarded', how: 'parameter-ignored', at: call.span, deliberate: false };
    const use = strongest(reads.map(read => useOf(a, read)), { is: 'unknown' });
    return use.is === 'returned' ? useOf(a, call) : use;
  }), { is: 'passed' });
}

/** `flag.also { … }`, `flag.let { ok -> … }`, `flag.orThrow()`: the receiver of a call is looked at by what is called. */
function asReceiver(a: Analysis, member: Expr & { kind: 'Member' }, expr: Expr): Use {
  const call = a.program.parentOf(member);
  if (call?.kind !== 'Call' || call.callee !== member) return { is: 'passed' };
  const lambda = call.args.at(-1)?.value;
  const run = lambda?.kind === 'Lambda' ? runOf(a, call, lambda) : undefined;
  const takes = run?.runner?.passes?.[0] === 'receiver';
  if (lambda?.kind !== 'Lambda' || !takes) return expr === member.object ? { is: 'passed' } : { is: 'unknown' };
  const uses: Use[] = [];
  const param = lambda.fn.params[0];
  const decl = param && a.resolver.declFor(param);
  if (decl) uses.push(...a.resolver.readsOf(decl).map(read => useOf(a, read)));
  if (run?.runner?.yields === 'receiver') uses.push(useOf(a, call));
  return strongest(uses, { is: 'discarded', how: 'statement', deliberate: false });
}
