/**
 * The calls with which a class or module answers failures elsewhere: in branches that a failed status leads to, in catch
 * blocks, and at the end of its completions. What is done often is a habit, and a fix may follow it.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { isLogCall, roleOf } from './roles.js';
import { statusOf } from './status.js';
import { isReachable, statementCalls, type Taken, type WayOn } from './ways-on.js';

interface Habit { readonly callee: Expr; readonly target: AnyNode; readonly takes: Taken; times: number }

/** Best first: what answers failures, then what every completion ends with. */
export function answersOf(a: Analysis, node: AnyNode): readonly WayOn[] {
  const scope = outermostClass(a, node) ?? a.fileOf(node);
  if (!scope) return [];
  const habits = a.once<AnyNode, readonly Habit[]>('failure-answers', scope, [], () => [...counted(a, failureCalls(a, scope).filter(call => !isRetry(a, call)), 1), ...counted(a, endings(a, scope), 2)]);
  const own = a.home(node);
  const seen = new Set<AnyNode>();
  const ways = habits.flatMap(({ callee, target, takes }): WayOn[] => {
    if (target === own || seen.has(target) || !reaches(a, target, node)) return [];
    seen.add(target);
    return [{ is: 'call', callee, takes }];
  });
  return ways.slice(0, 2);
}

function outermostClass(a: Analysis, node: AnyNode): AnyNode | undefined {
  let outer: AnyNode | undefined;
  for (let cls = a.program.enclosingClass(node); cls; cls = a.program.enclosingClass(cls)) outer = cls;
  return outer;
}

function reaches(a: Analysis, target: AnyNode, node: AnyNode): boolean {
  if (target.kind === 'Fn') return isReachable(a, target, node);
  // A variable that holds a function, a state setter of a component.
  const block = a.program.parentOf(target);
  for (let up: AnyNode | undefined = node; up; up = a.program.parentOf(up)) if (up === block) return true;
  return false;
}

/** Calls that are made at least so often, the most frequent first. */
function counted(a: Analysis, calls: readonly Call[], least: number): readonly Habit[] {
  const habits = new Map<string, Habit>();
  for (const call of calls) {
    const habit = asHabit(a, call);
    if (!habit) continue;
    const key = `${a.calleeName(call)} ${habit.takes}`;
    const known = habits.get(key);
    if (known) known.times++;
    else habits.set(key, habit);
  }
  return [...habits.values()].filter(({ times }) => times >= least).sort((x, y) => y.times - x.times);
}

/** A retry answers no failure: it only puts it off. */
function isRetry(a: Analysis, call: Call): boolean {
  return a.resolver.calleeOf(call).fns.some(fn => {
    let starts = false;
    a.eachBelow(fn, node => {
      if (node.kind === 'Call' && roleOf(a, node)?.does.has('starts-operation')) starts = true;
      return starts ? 'skip' : undefined;
    });
    return starts;
  });
}

/** A call of the code's own function with nothing, or with one thing that tells what went wrong. */
function asHabit(a: Analysis, call: Call): Habit | undefined {
  if (isLogCall(a, call) || roleOf(a, call)) return undefined;
  const { callee } = call;
  const isOwn = callee.kind === 'Name' || (callee.kind === 'Member' && callee.object.kind === 'This' && callee.object.of === 'this');
  const target = isOwn ? targetOf(a, call, callee) : undefined;
  if (!target) return undefined;
  if (call.args.length === 0) return { callee, target, takes: 'nothing', times: 1 };
  const [arg, more] = call.args;
  const takes = arg && !more && !arg.name && !arg.spread ? takenBy(a, arg.value) : undefined;
  return takes && { callee, target, takes, times: 1 };
}

function targetOf(a: Analysis, call: Call, callee: Expr): AnyNode | undefined {
  const { fns } = a.resolver.calleeOf(call);
  if (fns.length > 0) return fns[0];
  const decl = callee.kind === 'Name' ? a.resolver.declOf(callee) : undefined;
  return decl?.is === 'local' && decl.node.kind === 'Let' ? decl.node : undefined;
}

function takenBy(a: Analysis, value: Expr): Taken | undefined {
  if (value.kind === 'Template' || typeof a.resolver.constants.text(value) === 'string') return 'text';
  const names = namesIn(a, value);
  const decl = value.kind === 'Name' ? a.resolver.declOf(value) : undefined;
  if (decl?.is === 'local' && decl.node.kind === 'Try') return 'error';
  if (decl?.is === 'param' && /status/i.test(decl.name)) return 'status';
  // `String(error)`, `error.message`: a text that is made of it.
  return names.some(name => { const made = a.resolver.declOf(name); return made?.is === 'local' && made.node.kind === 'Try'; }) ? 'text' : undefined;
}

function namesIn(a: Analysis, root: Expr): readonly (Expr & { kind: 'Name' })[] {
  const found: (Expr & { kind: 'Name' })[] = [];
  a.eachBelow(root, node => {
    if (node.kind === 'Name') found.push(node);
    return undefined;
  });
  return found;
}

/** Calls in branches that a failed status leads to, and in catch blocks. */
function failureCalls(a: Analysis, scope: AnyNode): readonly Call[] {
  const found: Call[] = [];
  a.eachBelow(scope, node => {
    if (node.kind === 'Try') for (const c of node.catches) found.push(...statementCalls(c.body.stmts));
    if (node.kind === 'Fn' && statusOf(a, node)?.verdict === 'looked-at') found.push(...failedBranches(a, node));
    return undefined;
  });
  return found;
}

function failedBranches(a: Analysis, fn: Fn): readonly Call[] {
  const found: Call[] = [];
  for (const step of a.graph(fn)?.steps ?? []) {
    for (const { when, to } of step.next) {
      if (when?.is !== 'condition' || when.test.kind !== 'Binary' || a.resolver.constants.whole(when.test.right) !== 0) continue;
      const failed = (when.test.op === '!=' && when.holds) || (when.test.op === '==' && !when.holds);
      if (failed) found.push(...statementCalls(blockAround(a, to.node)));
    }
  }
  return found;
}

function blockAround(a: Analysis, node: AnyNode | undefined): readonly AnyNode[] {
  for (let up = node; up; up = a.program.parentOf(up)) if (up.kind === 'Block') return a.program.parentOf(up)?.kind === 'Branch' ? up.stmts : [];
  return [];
}

/** What completions call with nothing at the end of their bodies: it starts what comes next. */
function endings(a: Analysis, scope: AnyNode): readonly Call[] {
  const found: Call[] = [];
  a.eachBelow(scope, node => {
    if (node.kind !== 'Fn' || !node.body || !statusOf(a, node)) return undefined;
    const last = statementCalls(node.body.stmts.slice(-1)).find(call => call.args.length === 0);
    if (last) found.push(last);
    return undefined;
  });
  return found;
}
