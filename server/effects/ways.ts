/**
 * How control gets into a place: which callers, callbacks, runners and events lead to it. The answer is a set of ways,
 * each followed up through callers until it meets something that says when it happens, or leaves the program.
 */
import type { AnyNode, Call, Fn } from '../ir/ir.js';
import { lifecycleOf, type Lifecycle, type PlatformMember, type Runner } from '../catalogue/index.js';
import type { Analysis } from './analysis.js';
import { runOfLambda, type Run } from './runs.js';

/** The last step up: what finally starts it. `from` is the place nearest to it, `calls` the calls on the way, innermost first. */
export interface Way {
  readonly start: Start;
  readonly calls: readonly Call[];
  /** A lambda on the way runs after the call that took it returned. */
  readonly deferred: boolean;
  /** The innermost runner on the way that keeps an order between what it runs. */
  readonly order?: Runner['order'];
}

export type Start =
  /** An override of a catalogue callback. */
  | { readonly is: 'callback'; readonly fn: Fn; readonly type: string; readonly member: PlatformMember }
  | { readonly is: 'lifecycle'; readonly fn: Fn; readonly lifecycle: Lifecycle }
  /** A listener, observer or other lambda that a known function keeps and runs any number of times. */
  | { readonly is: 'event'; readonly run: Run; readonly fn: Fn }
  /** Run when something ends. */
  | { readonly is: 'teardown'; readonly run: Run; readonly fn: Fn }
  /** The project's queue runs it. */
  | { readonly is: 'queue'; readonly fn: Fn; readonly name: string }
  /** No caller in the program: public API, an override of something unknown, a function value whose holder is not known. */
  | { readonly is: 'outside'; readonly fn: Fn | undefined; readonly known: boolean };

/** Callers followed up from one place before the rest counts as coming from outside. */
const WAYS = 64;
const DEPTH = 12;

/** What else can start a function: the queue analysis says of a function that it is run by a queue. */
export type Interceptor = (fn: Fn) => Start | undefined;

const NOBODY: Interceptor = () => undefined;

/** All ways to a place. `intercept` may stop the way up at a function, saying what starts it. */
export function waysTo(a: Analysis, node: AnyNode, intercept: Interceptor = NOBODY): readonly Way[] {
  const ways: Way[] = [];
  const seen = new Set<Fn>();
  follow(a, node, { calls: [], deferred: false }, seen, ways, intercept, 0);
  return ways;
}

type Trail = Omit<Way, 'start'>;

function follow(a: Analysis, node: AnyNode, trail: Trail, seen: Set<Fn>, ways: Way[], intercept: Interceptor, depth: number): void {
  const fn = a.program.enclosingFn(node);
  if (!fn) { ways.push({ ...trail, start: { is: 'outside', fn: undefined, known: true } }); return; }
  if (seen.has(fn)) return;
  seen.add(fn);
  const end = (start: Start, more: Partial<Trail> = {}): void => { ways.push({ ...trail, ...more, start }); };
  const stopped = intercept(fn);
  if (stopped) return end(stopped);
  if (depth >= DEPTH || ways.length >= WAYS) return end({ is: 'outside', fn, known: false });

  const holder = a.program.parentOf(fn);
  if (holder?.kind === 'Lambda') return followLambda(a, fn, holder, trail, seen, ways, intercept, depth, end);

  const callback = a.resolver.isPlatformCallback(fn);
  if (callback) {
    // An overload of the app's own that delegates to this callback may call it as well; the platform's call is what counts.
    end({ is: 'callback', fn, type: callback.type, member: callback.member });
    return;
  }
  const lifecycle = lifecycleFor(a, fn);
  if (lifecycle) end({ is: 'lifecycle', fn, lifecycle });
  const callers = callsOf(a, fn);
  for (const call of callers) follow(a, call, { ...trail, calls: [...trail.calls, call] }, seen, ways, intercept, depth + 1);
  if (callers.length > 0 || lifecycle) return;
  end({ is: 'outside', fn, known: a.resolver.referencesTo(fn).length === 0 });
}

function followLambda(
  a: Analysis, fn: Fn, holder: AnyNode, trail: Trail, seen: Set<Fn>, ways: Way[], intercept: Interceptor, depth: number,
  end: (start: Start, more?: Partial<Trail>) => void,
): void {
  const run = runOfLambda(a, fn);
  if (!run) {
    // A function value in a local, field or property: who calls it by that name?
    const calls = callsOf(a, fn);
    for (const call of calls) follow(a, call, { ...trail, calls: [...trail.calls, call] }, seen, ways, intercept, depth + 1);
    if (calls.length === 0) end({ is: 'outside', fn, known: false });
    return;
  }
  const order = run.runner?.order ?? trail.order;
  const more: Trail = { ...trail, ...(order && { order }), deferred: trail.deferred || run.runs === 'later' || run.runs === 'later-many' };
  if (run.runs === 'at-teardown') return end({ is: 'teardown', run, fn }, more);
  if (run.runs === 'later-many' && !run.through) return end({ is: 'event', run, fn }, more);
  follow(a, holder, more, seen, ways, intercept, depth + 1);
}

/** Calls that may run a function: by name, through an override, or as a value whose holder is known. */
export function callsOf(a: Analysis, fn: Fn): readonly Call[] {
  return a.once<Fn, readonly Call[]>('calls-of', fn, [], () => a.resolver.callersOf(fn).filter(call => {
    a.fileOf(call);
    return true;
  }));
}

/** The lifecycle function that a method of an Android component, view model or web component is. */
export function lifecycleFor(a: Analysis, fn: Fn): Lifecycle | undefined {
  return a.once('lifecycle', fn, undefined, () => {
    const owner = fn.name !== undefined ? a.program.ownerOf(fn) : undefined;
    const file = owner && a.fileOf(fn);
    if (!file || fn.name === undefined) return undefined;
    const supertypes = [owner, ...a.resolver.superclassesOf(owner)].flatMap(cls => cls.supertypes.map(s => s.type.name.split('.').at(-1)!));
    for (const type of supertypes) {
      const known = lifecycleOf(file.language, type, fn.name);
      if (known) return known;
    }
    // Frameworks that know a component by its annotation or by nothing at all.
    return file.language === 'typescript' || fn.modifiers.has('override') ? lifecycleOf(file.language, undefined, fn.name) : undefined;
  });
}
