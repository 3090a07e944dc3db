/**
 * Who runs a function value, and when: the catalogue answers for known functions, a look at the parameter's uses answers
 * for the project's own. An unknown callee gives `undefined`: neither "at once" nor "never".
 */
import type { Call, Expr, Fn, Param } from '../ir/ir.js';
import type { Runner, RunMode } from '../catalogue/types.js';
import type { Inline } from '../flow/graph.js';
import type { Callee } from '../resolve/api.js';
import type { Analysis } from './analysis.js';

/** How one function-typed argument of a call is run. */
export interface Run {
  readonly call: Call;
  readonly runs: RunMode;
  /** What becomes of the value that it yields. */
  readonly value: Runner['value'];
  /** The catalogue's entry, where the callee is a known function. */
  readonly runner?: Runner;
  /** The project's function and the parameter it takes it with. */
  readonly through?: { readonly fn: Fn; readonly param: Param };
}

/** The run of the lambda (or other function value) that stands as this argument of this call. */
export function runOf(a: Analysis, call: Call, argument: Expr): Run | undefined {
  return a.once('run', argument, undefined, () => {
    const callee = a.resolver.calleeOf(call);
    if (callee.fns.length > 0) return projectRun(a, call, argument, callee);
    const runner = a.resolver.runnersAt(call).find(known => known.lambdas.some(arg => arg.value === argument))?.runner;
    return runner && { call, runs: runner.runs, value: runner.value, runner };
  });
}

function projectRun(a: Analysis, call: Call, argument: Expr, callee: Callee): Run | undefined {
  const runs = callee.fns.map(fn => {
    const param = fn.params.find(p => a.resolver.argumentFor(call, fn, p) === argument);
    const use = param && paramRun(a, fn, param);
    return param && use && { call, ...use, through: { fn, param } };
  });
  const [first] = runs;
  return first && runs.every(run => run?.runs === first.runs) ? first : undefined;
}

export interface ParamRun { readonly runs: RunMode; readonly value: Runner['value'] }

/** How a function treats a function value that it is given, over all its uses. */
export function paramRun(a: Analysis, fn: Fn, param: Param): ParamRun | undefined {
  return a.once('param-run', param, undefined, () => {
    const decl = a.resolver.declFor(param);
    if (!fn.body || !decl) return undefined;
    let result: ParamRun | undefined;
    for (const read of a.resolver.readsOf(decl)) {
      const use = readRun(a, fn, read);
      if (!use) return undefined;
      result = result ? { runs: later(result.runs, use.runs), value: result.value === use.value ? use.value : 'yielded' } : use;
    }
    return result;
  });
}

function readRun(a: Analysis, fn: Fn, read: Expr): ParamRun | undefined {
  const parent = a.program.parentOf(read);
  // `block()`, `block.invoke()` and `block?.invoke()`.
  const invoked = parent?.kind === 'Call' && parent.callee === read ? parent
    : parent?.kind === 'Member' && parent.object === read && parent.name === 'invoke' ? a.program.parentOf(parent) : undefined;
  if (invoked?.kind === 'Call') return { runs: placeOf(a, fn, invoked), value: 'yielded' };
  if (parent?.kind === 'Binary' && (parent.op === '==' || parent.op === '!=')) return { runs: 'now-maybe', value: 'yielded' };
  if (parent?.kind === 'Call') {
    const run = runOf(a, parent, read);
    if (run) return { runs: nested(placeOf(a, fn, parent), run.runs), value: run.value };
    return undefined;
  }
  if (parent?.kind === 'Assign' || parent?.kind === 'Let' || parent?.kind === 'Field') return { runs: 'later-many', value: 'yielded' };
  return undefined;
}

/** When a place inside `fn` runs, counted from a call of `fn`. */
function placeOf(a: Analysis, fn: Fn, node: Expr): RunMode {
  let mode: RunMode = 'now';
  for (let inner = a.program.enclosingFn(node); inner && inner !== fn; inner = a.program.enclosingFn(inner)) {
    const lambda = a.program.parentOf(inner);
    const call = lambda && a.program.parentOf(lambda);
    const run = lambda?.kind === 'Lambda' && call?.kind === 'Call' ? runOf(a, call, lambda) : undefined;
    mode = run ? nested(run.runs, mode) : 'later-many';
  }
  return mode;
}

const ORDER: readonly RunMode[] = ['now', 'now-maybe', 'now-many', 'later', 'later-many', 'at-teardown'];

function later(x: RunMode, y: RunMode): RunMode {
  return ORDER.indexOf(x) >= ORDER.indexOf(y) ? x : y;
}

/** What a run inside a run is. */
function nested(outer: RunMode, inner: RunMode): RunMode {
  return later(outer, inner);
}

/** For the graph builder: the lambdas of a call that run before it returns. */
export const inlineOf = (a: Analysis, call: Call): ReturnType<Inline> =>
  a.once<Call, ReturnType<Inline>>('inline', call, [], () => call.args.flatMap(({ value }) => {
    if (value.kind !== 'Lambda' || value.fn.modifiers.has('async') || value.fn.modifiers.has('generator')) return [];
    const run = runOf(a, call, value);
    if (run?.runs === 'now' || run?.runs === 'now-maybe' || run?.runs === 'now-many') return [{ lambda: value, runs: run.runs }];
    return [];
  }));

/** The call that is given a lambda, and how it runs it; undefined when the lambda is no argument, or nobody knows. */
export function runOfLambda(a: Analysis, fn: Fn): Run | undefined {
  const lambda = a.program.parentOf(fn);
  const call = lambda && a.program.parentOf(lambda);
  return lambda?.kind === 'Lambda' && call?.kind === 'Call' && call.callee !== lambda ? runOf(a, call, lambda) : undefined;
}
