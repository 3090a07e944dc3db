/**
 * How control gets into a place: which callers, callbacks, runners and events lead to it. The answer is a set of ways,
 * each followed up through callers until it meets something that says when it happens, or leaves the program.
 */
import type { AnyNode, Call, Fn } from '../ir/ir.js';
import { lifecycleOf, type Lifecycle, type PlatformMember } from '../catalogue/index.js';
import type { Analysis } from './analysis.js';
import { invocationsOf, takersOf, type Taker } from './carried.js';
import { runOf, type Run } from './runs.js';
import { isToldEach } from './waits.js';

/** The last step up: what finally starts it. `calls` are the calls on the way, innermost first. */
export interface Way {
  readonly start: Start;
  readonly calls: readonly Call[];
  /** The functions that the way leads through, innermost first; the last is what `start` starts. */
  readonly fns: readonly Fn[];
  /** Something on the way runs after the call that took it returned. */
  readonly deferred: boolean;
}

export type Start =
  /** An override of a catalogue callback. */
  | { readonly is: 'callback'; readonly fn: Fn; readonly type: string; readonly member: PlatformMember }
  | { readonly is: 'lifecycle'; readonly fn: Fn; readonly lifecycle: Lifecycle }
  /** A listener, observer or other function that a known function keeps and runs any number of times. */
  | { readonly is: 'event'; readonly run: Run; readonly fn: Fn; readonly name?: string }
  /** Run when something ends. */
  | { readonly is: 'teardown'; readonly run: Run; readonly fn: Fn }
  /** The project's queue runs it. */
  | { readonly is: 'queue'; readonly fn: Fn; readonly name: string; readonly sure: boolean; readonly payloads?: true; readonly around?: readonly AnyNode[] }
  /** No caller in the program: public API, an override of something unknown, a function value whose holder is not known. */
  | { readonly is: 'outside'; readonly fn: Fn | undefined; readonly known: boolean; readonly given?: Taker };

/** Places followed up from one place before the rest counts as coming from outside. */
const VISITS = 400;
const WAYS = 64;
const DEPTH = 14;

/** Types that say no more than that something can be run: who is given one says when. */
const PLAIN = /^(?:Runnable|Callable|Thread|TimerTask|Observer|Consumer)$/;

/** What else can start a function: the queue analysis says of a place in it that a queue runs it. */
export type Interceptor = (fn: Fn, node: AnyNode) => Start | undefined;

const NOBODY: Interceptor = () => undefined;

/** All ways to a place. `intercept` may stop the way up at a function, saying what starts it. */
export function waysTo(a: Analysis, node: AnyNode, intercept: Interceptor = NOBODY): readonly Way[] {
  return new Search(a, intercept).run(node);
}

type Trail = Omit<Way, 'start'>;

class Search {
  private readonly ways: Way[] = [];
  private visits = 0;

  constructor(private readonly a: Analysis, private readonly intercept: Interceptor) {}

  run(node: AnyNode): readonly Way[] {
    this.follow(node, { calls: [], fns: [], deferred: false });
    return this.ways;
  }

  private follow(node: AnyNode, trail: Trail): void {
    const fn = this.a.program.enclosingFn(node);
    if (!fn) return this.end(trail, { is: 'outside', fn: undefined, known: true });
    if (trail.fns.includes(fn)) return;
    const inside: Trail = { ...trail, fns: [...trail.fns, fn] };
    const stopped = this.intercept(fn, node);
    if (stopped) return this.end(inside, stopped);
    if (trail.fns.length >= DEPTH || this.visits++ >= VISITS || this.ways.length >= WAYS) return this.end(inside, { is: 'outside', fn, known: false });
    const callback = this.a.resolver.isPlatformCallback(fn);
    // An overload of the app's own that delegates to this callback may call it as well; the platform's call is what counts.
    if (callback && !PLAIN.test(callback.type)) return this.end(inside, { is: 'callback', fn, type: callback.type, member: callback.member });
    const lifecycle = lifecycleFor(this.a, fn);
    if (lifecycle) this.end(inside, { is: 'lifecycle', fn, lifecycle });
    const found = this.ways.length + this.visits;
    for (const call of callsOf(this.a, fn)) this.follow(call, { ...inside, calls: [...inside.calls, call] });
    this.followProperty(fn, inside);
    for (const taker of takersOf(this.a, fn)) this.followTaker(fn, taker, inside);
    if (this.ways.length + this.visits > found || lifecycle) return;
    this.end(inside, { is: 'outside', fn, known: isOpen(this.a, fn) });
  }

  /** What a property computes runs when it is read. */
  private followProperty(fn: Fn, trail: Trail): void {
    const field = this.a.program.parentOf(fn);
    if (field?.kind !== 'Field' || (field.getter !== fn && field.setter !== fn)) return;
    const decl = this.a.resolver.declFor(field);
    const uses = !decl ? [] : field.getter === fn ? this.a.resolver.readsOf(decl) : this.a.resolver.writesTo(decl);
    for (const use of uses) this.follow(use, trail);
  }

  private followTaker(fn: Fn, taker: Taker, trail: Trail): void {
    const { call, argument, name } = taker;
    const run = runOf(this.a, call, argument);
    const label = name === undefined ? {} : { name };
    if (!run) {
      const invoked = this.a.resolver.calleeOf(call).fns.flatMap(callee => callee.params.filter(p => this.a.resolver.argumentFor(call, callee, p) === argument).flatMap(p => invocationsOf(this.a, p)));
      for (const each of invoked) this.follow(each, { ...trail, calls: [...trail.calls, each], deferred: true });
      // An object that holds several functions is called by them, and by them it is found.
      if (invoked.length === 0) this.end(trail, { is: 'outside', fn, known: name !== undefined && /^on[A-Z]/.test(name), given: taker });
      return;
    }
    if (run.runs === 'at-teardown') return this.end(trail, { is: 'teardown', run, fn });
    // Each value that is sent is an event of its own, whoever began to listen.
    if (run.runs === 'now-many' && isToldEach(this.a, call)) return this.end({ ...trail, deferred: true }, { is: 'event', run, fn, ...label });
    if (run.runs === 'later-many') {
      const invoked = run.through ? invocationsOf(this.a, run.through.param) : [];
      if (invoked.length === 0) return this.end({ ...trail, deferred: true }, { is: 'event', run, fn, ...label });
      for (const each of invoked) this.follow(each, { ...trail, calls: [...trail.calls, each], deferred: true });
      return;
    }
    this.follow(call, { ...trail, deferred: trail.deferred || run.runs === 'later' });
  }

  private end(trail: Trail, start: Start): void {
    this.ways.push({ ...trail, start });
  }
}

/**
 * Nothing in the program takes the function as a value: whoever calls it is outside, and calls it by its name; so it is
 * not private. Or it is the handler of an event: `button.onclick = …`.
 */
function isOpen(a: Analysis, fn: Fn): boolean {
  const lambda = a.program.parentOf(fn);
  if (lambda?.kind !== 'Lambda') return !fn.modifiers.has('private') && a.resolver.referencesTo(fn).length === 0;
  const assign = a.program.parentOf(lambda);
  return assign?.kind === 'Assign' && assign.target.kind === 'Member' && /^on[a-z]+$/.test(assign.target.name);
}

/** Calls that may run a function: by name, through an override, or through what holds it. */
export function callsOf(a: Analysis, fn: Fn): readonly Call[] {
  return a.once<Fn, readonly Call[]>('calls-of', fn, [], () => a.resolver.callersOf(fn).filter(call => a.fileOf(call) !== undefined));
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
