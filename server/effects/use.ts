/**
 * What becomes of a value: whether anybody looks at it. The way goes up from the expression through everything that only
 * hands it on (arms, elvis, lambdas whose value is yielded, locals, parameters of the project's functions) until
 * somebody tests it, keeps it, or nobody takes it.
 *
 * It follows plain values; what happens to one that is the receiver or argument of a call is `use-in-call.ts`, and a
 * promise, which is more than its value, has `rejections.ts`.
 */
import type { AnyNode, Branch, Call, Expr, Fn, Span } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { onlyTells } from './outcomes.js';
import { runOf, runOfLambda, type Run } from './runs.js';
import { asReceiver, inCall, ofResult } from './use-in-call.js';

export type Use =
  /** Nobody takes it. `how` says what dropped it, for the message. */
  | { readonly is: 'discarded'; readonly how: Drop; readonly at?: Span; readonly deliberate: boolean }
  | { readonly is: 'tested' }
  | { readonly is: 'returned'; readonly from: Fn }
  | { readonly is: 'passed' }
  | { readonly is: 'stored' }
  /** Only printed. `tested`: a branch looks at it, and does nothing but print. */
  | { readonly is: 'logged'; readonly at?: Span; readonly tested?: true }
  | { readonly is: 'unknown' };

export type Drop =
  | 'statement' | 'never-read' | 'lambda-dropped' | 'parameter-ignored'
  /** Only compared with null, or only asked whether an exception was thrown. */
  | 'absence-only'
  /** Compared with a value of another type, which it never equals. */
  | 'miscompared';

/** Uses in the order of how much somebody looks at the value: one look is enough. */
const WEIGHT: Record<Use['is'], number> = { unknown: 6, tested: 5, passed: 4, stored: 3, returned: 2, logged: 1, discarded: 0 };

export const strongest = (uses: readonly Use[], none: Use): Use =>
  uses.reduce((best, use) => (WEIGHT[use.is] > WEIGHT[best.is] ? use : best), uses[0] ?? none);

export const dropped = (how: Drop, at?: Span): Use => ({ is: 'discarded', how, deliberate: false, ...(at && { at }) });

export function useOf(a: Analysis, expr: Expr): Use {
  return a.once<Expr, Use>('use', expr, { is: 'unknown' }, () => climb(a, expr));
}

function climb(a: Analysis, expr: Expr): Use {
  const parent = a.program.parentOf(expr);
  if (!parent) return { is: 'unknown' };
  switch (parent.kind) {
    case 'ExprStmt': return { ...dropped('statement'), deliberate: parent.deliberate === true } as Use;
    case 'Return': return returned(a, parent);
    case 'Let': return bound(a, parent.bindings.length === 1 && parent.bindings[0]!.path.length === 0 ? a.resolver.declFor(parent, parent.bindings[0]) : undefined);
    case 'Assign': return assigned(a, parent, expr);
    case 'Field': return bound(a, a.resolver.declFor(parent));
    case 'Branch': return decides(a, parent);
    case 'Loop': return { is: 'tested' };
    case 'Yield': return yielded(a, parent);
    case 'Unary': return parent.op === 'void' ? { is: 'discarded', how: 'statement', deliberate: true } : useOf(a, parent);
    case 'Binary': return operand(a, parent, expr);
    case 'Is': case 'Cast': case 'Choose': case 'Template': return useOf(a, parent);
    case 'Call': return parent.callee === expr ? { is: 'passed' } : inCall(a, parent, expr);
    case 'Member': return asReceiver(a, parent, expr);
    case 'Throw': case 'Index': case 'ListExpr': case 'EnumEntry': case 'Param': case 'Emit': case 'Await': return { is: 'passed' };
    default: return { is: 'unknown' };
  }
}

/** A branch that only prints is a remark; one that only chooses between values is as good as the value it yields. */
function decides(a: Analysis, branch: Branch): Use {
  if (onlyTells(a, branch)) return { is: 'logged', at: branch.span, tested: true };
  const choose = a.program.parentOf(branch);
  const onlyChooses = choose?.kind === 'Choose' && branch.arms.every(({ body: { stmts: [value, ...more] } }) => value?.kind === 'Yield' && more.length === 0 && !acts(a, value.value));
  const use: Use = onlyChooses ? useOf(a, choose) : { is: 'tested' };
  return use.is === 'logged' || use.is === 'discarded' ? use : { is: 'tested' };
}

function operand(a: Analysis, binary: Expr & { kind: 'Binary' }, expr: Expr): Use {
  const { op, left, right } = binary;
  if (op === '&&' || op === '||') {
    // What it decides is whether the right side runs: that is a look if something happens there.
    return left === expr && acts(a, right) ? { is: 'tested' } : useOf(a, binary);
  }
  if (op === '==' || op === '!=') return compared(a, expr, left === expr ? right : left) ?? useOf(a, binary);
  return useOf(a, binary);
}

/** A comparison that does not tell the answers apart. */
export function compared(a: Analysis, value: Expr, other: Expr): Use | undefined {
  if (other.kind === 'Literal' && other.value === null) return dropped('absence-only');
  const type = a.resolver.typeOf(value)?.name;
  const isNumber = typeof a.resolver.constants.whole(other) === 'number';
  return type === 'boolean' && isNumber ? dropped('miscompared', other.span) : undefined;
}

function acts(a: Analysis, expr: Expr): boolean {
  let found = false;
  a.eachBelow(expr, node => {
    if (node.kind === 'Call' || node.kind === 'Assign' || node.kind === 'Leave') found = true;
    return found ? 'skip' : undefined;
  });
  return found;
}

/** The value of an arm belongs to the `Choose` around it. */
function yielded(a: Analysis, node: AnyNode): Use {
  for (let up = a.program.parentOf(node); up; up = a.program.parentOf(up)) {
    if (up.kind === 'Choose') return useOf(a, up);
    if (up.kind === 'Fn') break;
  }
  return { is: 'unknown' };
}

// ---- Values of functions ------------------------------------------------

function returned(a: Analysis, stmt: AnyNode & { kind: 'Return' }): Use {
  const fn = returnsFrom(a, stmt);
  if (!fn) return { is: 'unknown' };
  const holder = a.program.parentOf(fn);
  if (holder?.kind !== 'Lambda') {
    // A setter or constructor has no value to give.
    return fn.result?.name === 'void' ? dropped('statement') : { is: 'returned', from: fn };
  }
  const run = runOfLambda(a, fn);
  if (run && !run.through) return ofLambda(a, run);
  // A place that wants a function without a value takes the lambda and loses what it yields.
  if (a.resolver.wantedFunction(holder)?.result?.name === 'void') return dropped('lambda-dropped', run?.call.span);
  if (run) return ofLambda(a, run);
  return ofHeldLambda(a, holder, fn);
}

/** What becomes of the value of a lambda that a known function runs. */
function ofLambda(a: Analysis, run: Run): Use {
  if (run.through) return throughParam(a, run.through.param);
  const whole = (): Use => useOf(a, run.call);
  switch (run.value) {
    case 'dropped': return dropped('lambda-dropped', run.call.span);
    case 'tested': return run.runner?.yields === 'receiver-or-null' ? asked(a, run.call) : { is: 'tested' };
    case 'yielded':
      if (run.runner?.yields === 'lambda' || run.runner?.yields === 'lambda-or-null') return whole();
      return run.runner?.yields === 'result-of-lambda' ? ofResult(a, run.call) : { is: 'passed' };
    // A list, a deferred, a flow: as good as whoever takes it, and nobody takes a statement's.
    case 'collected': case 'awaited': {
      const use = whole();
      return use.is === 'discarded' ? dropped('lambda-dropped', run.call.span) : use.is === 'logged' ? use : { is: 'passed' };
    }
  }
}

/** `x.takeIf { started } ?: giveUp()`: tested, if somebody asks what came of it. */
function asked(a: Analysis, call: Call): Use {
  const parent = a.program.parentOf(call);
  if (parent?.kind === 'Binary' && parent.op === '??' && parent.left === call && acts(a, parent.right)) return { is: 'tested' };
  const use = useOf(a, call);
  return use.is === 'discarded' ? { ...use, how: 'lambda-dropped' } : { is: 'tested' };
}

/** A lambda kept under a name is as good as the calls of it, if all of them are known. */
function ofHeldLambda(a: Analysis, lambda: AnyNode, fn: Fn): Use {
  const holder = a.program.parentOf(lambda);
  if (holder?.kind === 'Call') return a.resolver.calleeOf(holder).complete ? { is: 'passed' } : { is: 'unknown' };
  if (holder?.kind !== 'Let' || holder.exported) return { is: 'passed' };
  const decl = a.resolver.declFor(holder, holder.bindings[0]);
  const reads = decl ? a.resolver.readsOf(decl) : [];
  const calls = a.resolver.callersOf(fn);
  if (calls.length === 0 || calls.length !== reads.length) return { is: 'passed' };
  return strongest(calls.map(call => useOf(a, call)), { is: 'passed' });
}

/** The function or lambda that a `return` leaves. */
export function returnsFrom(a: Analysis, stmt: AnyNode & { kind: 'Return' }): Fn | undefined {
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
      return run?.value === 'dropped' ? dropped('lambda-dropped', up.span) : { is: 'passed' };
    }
    return { is: 'passed' };
  });
  return strongest(uses, { is: 'unknown' });
}

// ---- Names --------------------------------------------------------------

/** A value bound to a name: as much looked at as the name's reads are. */
function bound(a: Analysis, decl: Decl | undefined): Use {
  if (!decl || decl.is === 'platform' || decl.is === 'import') return { is: 'stored' };
  // `ok = ok && started()`: a name that feeds itself is not read by that.
  const reads = a.resolver.readsOf(decl).filter(read => !feedsItself(a, read, decl));
  if (reads.length === 0) return isHidden(decl) ? { ...dropped('never-read'), deliberate: decl.name === '_' } as Use : { is: 'stored' };
  const uses = reads.map(read => useOf(a, read));
  if (decl.is !== 'local') return uses.every(use => use.is === 'logged' || use.is === 'discarded') ? strongest(uses, { is: 'stored' }) : { is: 'stored' };
  return strongest(uses.map(use => (use.is === 'discarded' && use.how === 'statement' ? dropped('never-read') : use)), { is: 'unknown' });
}

/** Nobody outside the file can read it: a local, or a private property without a setter of its own. */
function isHidden(decl: Decl): boolean {
  if (decl.is === 'local') return true;
  return decl.is === 'field' && decl.node.modifiers.has('private') && !decl.node.setter && !decl.node.delegate && decl.node.annotations.length === 0;
}

function feedsItself(a: Analysis, read: Expr, decl: Decl): boolean {
  for (let node: AnyNode | undefined = read; node; node = a.program.parentOf(node)) {
    if (node.kind === 'Assign') return (node.target.kind === 'Name' || node.target.kind === 'Member') && a.resolver.declOf(node.target) === decl;
    if (node.kind === 'Fn' || node.kind === 'Branch' || node.kind === 'Block') return false;
  }
  return false;
}

function assigned(a: Analysis, assign: Expr & { kind: 'Assign' }, expr: Expr): Use {
  if (assign.value !== expr) return { is: 'passed' };
  if (assign.target.kind !== 'Name' && assign.target.kind !== 'Member') return { is: 'stored' };
  return bound(a, a.resolver.declOf(assign.target));
}
