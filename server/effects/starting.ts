/**
 * Which operations a call starts: itself, in a function of the project that it calls, or in a lambda that it sets going.
 * What a queue runs is not started by who hands it in.
 */
import type { AnyNode, Block, Call, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { atCall, type Condition } from './conditions.js';
import { flightOf } from './inflight.js';
import { fromCaller, linkOf, type Link } from './link-of.js';
import { isChain } from './promises.js';
import { queueOf } from './queues.js';
import { roleOf } from './roles.js';
import { runOf } from './runs.js';
import { waitIn } from './waits.js';

/** An operation that may be started, in the words of the function that looks at it. */
export interface Started {
  /** The operation. */
  readonly op: Call;
  readonly link: Link;
  /** What holds whenever it is started. */
  readonly when: readonly Condition[];
  /** Time passes first, or only some of the functions that may be called start it: overlap is possible, not certain. */
  readonly unsure: boolean;
  /** The place of the start, where it stands in a lambda that the call only sets going. */
  readonly at?: Call;
}

/** An operation that takes the one slot of a link, or collides with what does. */
export function isOperation(a: Analysis, call: Call): boolean {
  const role = roleOf(a, call);
  return role !== undefined && role.does.has('starts-operation') && role.slot !== 'none';
}

/** Android: asks for a link, which is there when the callback says so. */
export function isConnecting(a: Analysis, call: Call): boolean {
  const role = roleOf(a, call);
  return role?.member?.completedBy?.includes('onConnectionStateChange') === true && !role.does.has('disconnects-link') && role.owner !== 'BluetoothGattServer';
}

/** Calls that a function evaluates itself, inlined lambdas included. */
export function callsIn(a: Analysis, home: Fn | Block): readonly Call[] {
  return a.once<Fn | Block, readonly Call[]>('calls-in', home, [], () => {
    const found: Call[] = [];
    const root = home.kind === 'Fn' ? home.body : home;
    if (root) {
      a.eachBelow(root, node => {
        if (node.kind === 'Call') found.push(node);
        return node.kind === 'Fn' && !a.isInlined(node) ? 'skip' : undefined;
      });
    }
    return found;
  });
}

/** The functions of the project that a call runs before it returns, as far as all of them are known. */
export function targetsOf(a: Analysis, call: Call): readonly Fn[] {
  return a.once<Call, readonly Fn[]>('targets', call, [], () => {
    const callee = a.resolver.calleeOf(call);
    // What a parameter holds depends on the caller: the lambda counts where it is given.
    if (!callee.complete || (callee.value && 'kind' in callee.value && callee.value.kind === 'Param')) return [];
    return callee.fns.filter(fn => fn.body && !fn.modifiers.has('generator') && queueOf(a, fn) === undefined);
  });
}

/** Whether what a call yields settles when its operations have ended. */
export function yieldsPromise(a: Analysis, call: Call): boolean {
  const role = roleOf(a, call);
  if (role) return role.answer === 'promise';
  return targetsOf(a, call).some(fn => fn.modifiers.has('async') || a.resolver.resultOf(fn)?.name === 'Promise');
}

/** What a call starts before anything waits. */
export function startedBy(a: Analysis, call: Call): readonly Started[] {
  return a.once<Call, readonly Started[]>('started-by', call, [], () => {
    if (isOperation(a, call)) return [{ op: call, link: linkOf(a, call), when: [], unsure: false }];
    return [...throughTargets(a, call, fn => flightOf(a, fn).first), ...launchedBy(a, call)].slice(0, 4);
  });
}

/** What may still be in flight when a call has returned, besides what its promise stands for. */
export function leftBy(a: Analysis, call: Call): readonly Started[] {
  return a.once<Call, readonly Started[]>('left-by', call, [], () => [...throughTargets(a, call, fn => flightOf(a, fn).left), ...leftInChain(a, call)].slice(0, 4));
}

/** `then(() => { start(); })`: the chain goes on without what its lambda has started and not returned. */
function leftInChain(a: Analysis, call: Call): readonly Started[] {
  if (!isChain(call)) return [];
  return call.args.flatMap(({ value }, i) => {
    if (value.kind !== 'Lambda' || queueOf(a, value.fn) !== undefined) return [];
    const { left } = flightOf(a, value.fn);
    return i > 0 || a.calleeName(call) === 'catch' ? left.map(started => ({ ...started, unsure: true })) : left;
  });
}

function throughTargets(a: Analysis, call: Call, part: (fn: Fn) => readonly Started[]): readonly Started[] {
  const fns = targetsOf(a, call);
  const found = fns.map(fn => part(fn).flatMap((started): readonly Started[] => {
    const when = atCall(a, started.when, call, fn);
    return when === 'never' ? [] : [{ ...started, when, link: fromCaller(a, started.link, call, fn) }];
  }));
  // Of several implementations one that does nothing is no exception to the others; the other way round it is.
  const most = found.filter(each => each.length > 0).length * 2 >= found.length;
  return found.flat().map(started => (most ? started : { ...started, unsure: true }));
}

// ---- Set going ----------------------------------------------------------

/** Functions that set a lambda going without waiting for it, at once or after a while. common practice, no source */
const PROMPT = /^(?:launch\w*|async|post|postAtFrontOfQueue|execute|submit|runOnUiThread|thread|Thread|queueMicrotask|nextTick|runAsync|supplyAsync)$/;
const DELAYED = /^(?:postDelayed|postAtTime|schedule|setTimeout|requestAnimationFrame|requestIdleCallback|setImmediate)$/;

function launchedBy(a: Analysis, call: Call): readonly Started[] {
  const name = a.calleeName(call);
  return call.args.flatMap(({ value }): readonly Started[] => {
    if (value.kind !== 'Lambda') return [];
    const run = runOf(a, call, value);
    if (run?.runs !== 'later' || queueOf(a, value.fn) !== undefined) return [];
    const delayed = name !== undefined && DELAYED.test(name);
    if (!run.through && (name === undefined || !(delayed || PROMPT.test(name)))) return [];
    const { first, firstCalls } = flightOf(a, value.fn);
    // Of a function of the project it is not known how long it holds the lambda back.
    const unsure = delayed || (run.through !== undefined && waitIn(a, run.through.fn) !== 'no');
    return first.map((started, i) => ({ ...started, unsure: started.unsure || unsure, at: started.at ?? firstCalls[i]! }));
  });
}

/** Whether a call's lambda goes on by itself: what it starts is in flight until somebody waits for the job. */
export function isLaunch(a: Analysis, call: Call): boolean {
  return call.args.some(({ value }) => value.kind === 'Lambda' && runOf(a, call, value)?.runs === 'later');
}

/** The lambda nearest to a node, inside its function, that a queue runs: what stands in it is started when its turn comes. */
export function queuedLambda(a: Analysis, node: AnyNode, home: Fn | Block): Fn | undefined {
  for (let fn = a.program.enclosingFn(node); fn && fn !== home; fn = a.program.enclosingFn(fn)) {
    if (queueOf(a, fn) !== undefined) return fn;
  }
  return undefined;
}
