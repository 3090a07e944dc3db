/**
 * The life of a Web Bluetooth link. A device keeps its server, so whoever has the device can disconnect it, whatever became
 * of the result of `connect()`; and a page that goes away takes its links along. So what counts is that the program never
 * disconnects although it has an occasion to: a visit that is over, a component that is torn down, a step that failed.
 */
import type { AnyNode, Block, Call, Expr, Fn } from '../ir/ir.js';
import { wayFrom } from '../flow/paths.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { closers, closes, closesSomewhere, type Closer } from './closing.js';
import { holdersOf, keptFrom, type Holder } from './holders.js';
import type { Verdict } from './links.js';
import { originsOf, type Origin } from './origins.js';
import { liveWays } from './reach.js';
import { roleOf } from './roles.js';
import { callsOf, lifecycleFor, waysTo } from './ways.js';

/** The occasion on which the program should have disconnected. */
export type Exposed =
  /** Nothing uses the link once the function is done, and the function leaves it open. */
  | { readonly is: 'visit' }
  /** The component is torn down; `at` is what it does then, if anything. */
  | { readonly is: 'teardown'; readonly at?: AnyNode }
  /** A step after connecting fails, and somebody catches that and goes on. */
  | { readonly is: 'failure'; readonly at: Call };

export function webVerdict(a: Analysis, open: Call): { readonly holders: readonly Holder[]; readonly verdict: Verdict } {
  const receiver = a.resolver.calleeOf(open).receiver?.expr;
  const devices = receiver ? originsOf(a, receiver) : [];
  const deviceDecls = devices.flatMap(o => (o.is === 'decl' ? [o.decl] : []));
  const holders = [...holdersOf(a, open), ...deviceDecls.flatMap((decl): Holder[] => [{ is: 'decl', decl, keeps: 'one' }, ...keptFrom(a, decl)])];
  return { holders, verdict: judge(a, open, holders, devices) };
}

function judge(a: Analysis, open: Call, holders: readonly Holder[], devices: readonly Origin[]): Verdict {
  const decls = new Set<Decl>(holders.flatMap(h => (h.is === 'decl' ? [h.decl] : [])));
  const ours = closers(a).filter(closer => a.fileOf(closer.call)?.language === 'typescript');
  const mine = ours.filter(closer => closer.closed.some(o => concerns(a, o, open, decls)));
  const live = mine.filter(closer => liveWays(a, closer.call).length > 0);
  const elsewhere = holders.some(h => h.is === 'unknown' || h.is === 'caller') || devices.some(o => o.is === 'unknown' || o.is === 'outside');
  if (live.length > 0) {
    if (elsewhere) return { is: 'closed', by: live };
    // What only gives back a link that was set up half does not end one that works.
    const forgotten = live.every(closer => a.home(closer.call) === a.home(open) && isCatch(a, closer.call)) ? teardownAround(a, open) : undefined;
    if (forgotten) return { is: 'never-closed', disconnects: [], exposed: forgotten };
    return leftOpen(a, open, decls, live) ?? { is: 'closed', by: live };
  }
  const unsure = elsewhere || ours.some(closer => !mine.includes(closer) && closer.closed.some(o => o.is === 'unknown' || isAnyDevice(a, o)));
  if (unsure) return { is: 'unknown' };
  if (mine.length > 0) return { is: 'unreached', by: mine };
  const exposed = exposedBy(a, open, decls);
  return { is: 'never-closed', disconnects: [], ...(exposed && { exposed }) };
}

function concerns(a: Analysis, origin: Origin, open: Call, decls: ReadonlySet<Decl>): boolean {
  if (origin.is === 'decl') return decls.has(origin.decl);
  return origin.is === 'made' && (origin.call === open || isAnyDevice(a, origin));
}

/** `for (const device of await navigator.bluetooth.getDevices())`: any device that the page may use. */
function isAnyDevice(a: Analysis, origin: Origin): boolean {
  return origin.is === 'made' && a.calleeName(origin.call) === 'getDevices';
}

// ---- Occasions ----------------------------------------------------------

function exposedBy(a: Analysis, open: Call, decls: ReadonlySet<Decl>): Exposed | undefined {
  const teardown = teardownAround(a, open);
  if (teardown) return teardown;
  if (isVisit(a, open, decls)) return { is: 'visit' };
  const [step] = stepsThatMayFail(a, open);
  return step && isCaught(a, open, 0) ? { is: 'failure', at: step } : undefined;
}

/** Supertypes and annotations of things that a framework or the browser takes down. React, Lit and Angular name them so. */
const COMPONENTS = /^(?:HTMLElement|HTML\w+Element|LitElement|ReactiveElement|Component|PureComponent|Vue)$/;
const COMPONENT_ANNOTATIONS = /^(?:Component|Directive|customElement)$/;

/** What a class calls the function that ends its objects; it counts where the program calls it. common practice, no source */
const ENDINGS = /^(?:dispose|destroy|close|disconnect|release|teardown|tearDown|cleanup|cleanUp|shutdown|shutDown|unmount)$/;

function teardownAround(a: Analysis, open: Call): Exposed | undefined {
  for (const way of waysTo(a, open)) {
    const { start } = way;
    if (start.is === 'event' && start.run.runner?.returned === 'at-teardown') return { is: 'teardown' };
  }
  for (let cls = a.program.enclosingClass(open); cls; cls = a.program.enclosingClass(cls)) {
    const at = cls.functions.find(fn => lifecycleFor(a, fn)?.phase === 'teardown') ?? cls.functions.find(fn => ENDINGS.test(fn.name ?? '') && fn.body && callsOf(a, fn).length > 0);
    const supertypes = [cls, ...a.resolver.superclassesOf(cls)].flatMap(each => each.supertypes.map(s => s.type.name.split('.').at(-1)!));
    if (at) return { is: 'teardown', at };
    if (supertypes.some(name => COMPONENTS.test(name)) || cls.annotations.some(({ name }) => COMPONENT_ANNOTATIONS.test(name))) return { is: 'teardown' };
  }
  return undefined;
}

/**
 * The function opens the link, does something and is done: no field holds it, no listener waits on it, nothing that belongs
 * to it is returned or kept.
 */
function isVisit(a: Analysis, open: Call, decls: ReadonlySet<Decl>): boolean {
  const home = a.home(open);
  if (home?.kind !== 'Fn' || !home.body || [...decls].some(decl => decl.is === 'field' || isModuleLevel(a, decl))) return false;
  let kept = false;
  a.eachBelow(home.body, node => {
    if (node.kind === 'Call' && (roleOf(a, node)?.does.has('subscribes') || a.calleeName(node) === 'addEventListener')) kept = true;
    if (node.kind === 'Assign' && !isLocalTarget(a, node.target) && !isPlain(a, node.value)) kept = true;
    if (node.kind === 'Return' && node.value && a.program.enclosingFn(node) === home && !isPlain(a, node.value)) kept = true;
    return kept ? 'skip' : undefined;
  });
  return !kept && stepsThatMayFail(a, open).length > 0;
}

function isModuleLevel(a: Analysis, decl: Decl): boolean {
  return decl.is === 'local' && a.program.enclosingFn(decl.node) === undefined;
}

function isLocalTarget(a: Analysis, target: Expr): boolean {
  const decl = target.kind === 'Name' ? a.resolver.declOf(target) : undefined;
  return decl?.is === 'local' && !isModuleLevel(a, decl);
}

const PLAIN = /^(?:number|string|boolean|void|bytes|Date)$/;

/** Numbers, texts and bytes have nothing to do with the link that they were read from. */
function isPlain(a: Analysis, value: Expr): boolean {
  if (value.kind === 'Literal' || value.kind === 'Template') return true;
  if (value.kind === 'ObjectExpr') return value.body.functions.length === 0 && value.body.fields.every(f => f.initial !== undefined && isPlain(a, f.initial));
  const type = a.resolver.typeOf(value);
  const settled = type?.name === 'Promise' ? type.args[0] : type;
  return settled !== undefined && (PLAIN.test(settled.name) || (settled.name === 'list' && PLAIN.test(settled.args[0]?.name ?? '')));
}

// ---- Failing steps ------------------------------------------------------

/** Operations after the opening in its own function whose failure nothing around answers by disconnecting. */
function stepsThatMayFail(a: Analysis, open: Call): readonly Call[] {
  return a.once<Call, readonly Call[]>('steps-that-may-fail', open, [], () => {
    const home = a.home(open);
    const found: Call[] = [];
    const root: Fn | Block | undefined = home;
    if (!root) return found;
    a.eachBelow(root.kind === 'Fn' ? root.body ?? root : root, node => {
      if (node.kind !== 'Call' || node === open || node.span.start < open.span.end) return undefined;
      if (roleOf(a, node)?.does.has('starts-operation') && !isProtected(a, node, root)) found.push(node);
      return undefined;
    });
    return found.filter(call => isAfter(a, open, call));
  });
}

/** Reached from the opening: in its graph, or in a lambda that is made there. */
function isAfter(a: Analysis, open: Call, call: Call): boolean {
  const at = a.stepsOf(open);
  if (!at) return false;
  const nodes: Expr[] = [call];
  for (let fn = a.program.enclosingFn(call); fn && fn !== at.graph.of; fn = a.program.enclosingFn(fn)) {
    const holder = a.program.parentOf(fn);
    if (holder?.kind === 'Lambda') nodes.push(holder);
  }
  const targets = new Set(nodes.flatMap(node => at.graph.stepsOf(node)));
  return at.steps.some(from => wayFrom(from, step => targets.has(step), { step: step => step.node?.kind === 'Call' && closes(a, step.node) }) !== undefined);
}

/** Inside a `try`, or a chain, whose handler closes. */
function isProtected(a: Analysis, call: AnyNode, root: AnyNode): boolean {
  let below: AnyNode = call;
  for (let node = a.program.parentOf(call); node && node !== root; below = node, node = a.program.parentOf(node)) {
    if (node.kind === 'Try' && node.body === below && [...node.catches.map(c => c.body), ...(node.last ? [node.last] : [])].some(block => closesIn(a, block))) return true;
    if (node.kind === 'Call' && isChain(node) && node.args.some(arg => arg.value.kind === 'Lambda' && closesSomewhere(a, arg.value))) return true;
  }
  return false;
}

function isChain(call: Call): boolean {
  return call.callee.kind === 'Member' && /^(?:catch|finally|then)$/.test(call.callee.name);
}

function closesIn(a: Analysis, block: Block): boolean {
  let found = false;
  a.eachBelow(block, node => {
    if (node.kind === 'Call' && closes(a, node)) found = true;
    return found ? 'skip' : undefined;
  });
  return found;
}

/** Whether somebody up the way catches what is thrown there, and so goes on. */
function isCaught(a: Analysis, node: AnyNode, depth: number): boolean {
  let below = node;
  let up = a.program.parentOf(node);
  for (; up && !(up.kind === 'Fn' && a.program.parentOf(up)?.kind !== 'Lambda'); below = up, up = a.program.parentOf(up)) {
    if (up.kind === 'Try' && up.body === below && up.catches.some(c => !rethrows(c.body))) return true;
    if (up.kind === 'Call' && isChain(up) && up.callee !== below && up.args.length > 1) return true;
    const chained = up.kind === 'Member' && up.object === below ? a.program.parentOf(up) : undefined;
    if (chained?.kind === 'Call' && (up.kind === 'Member' && (up.name === 'catch' || (up.name === 'then' && chained.args.length > 1)))) return true;
  }
  return up?.kind === 'Fn' && depth < 5 && callsOf(a, up).some(call => isCaught(a, call, depth + 1));
}

function rethrows(block: Block): boolean {
  return block.stmts.some(stmt => stmt.kind === 'Throw');
}

// ---- Open after a failure -----------------------------------------------

/**
 * Something disconnects, but through a place that is filled only after a step that may fail: until then nobody else has
 * the device, and a failure leaves it connected.
 */
function leftOpen(a: Analysis, open: Call, decls: ReadonlySet<Decl>, live: readonly Closer[]): Verdict | undefined {
  if (live.some(closer => isHandler(a, closer.call))) return undefined;
  const [step] = stepsThatMayFail(a, open);
  const at = a.stepsOf(open);
  const home = a.home(open);
  if (!step || !at || home?.kind !== 'Fn') return undefined;
  const through = new Set(live.flatMap(closer => closer.closed.flatMap(o => (o.is === 'decl' && decls.has(o.decl) ? [o.decl] : []))));
  const isLocal = (decl: Decl): boolean => (decl.is === 'local' && !isModuleLevel(a, decl)) || decl.is === 'param';
  const inHome = live.filter(closer => a.home(closer.call) === home);
  const exposed: Exposed = { is: 'failure', at: step };
  if (live.every(closer => isOutOfReach(a, closer.call, home, step))) return { is: 'left-open', by: live, exits: [], exposed };
  if (inHome.length === live.length && [...through].every(isLocal)) return { is: 'left-open', by: live, exits: [], exposed };
  const fills = [...through].filter(decl => !isLocal(decl)).flatMap(decl => a.resolver.writesTo(decl)).filter(write => a.home(write) === home);
  if (fills.length === 0 || [...through].some(decl => !isLocal(decl) && !a.resolver.writesTo(decl).some(write => a.home(write) === home))) return undefined;
  const isFilled = fills.some(write => write.span.start < step.span.start);
  return isFilled ? undefined : { is: 'left-open', by: live, exits: [], exposed };
}

/** In what answers a failure alone. */
function isCatch(a: Analysis, call: Call): boolean {
  for (let node: AnyNode | undefined = a.program.parentOf(call), below: AnyNode = call; node; below = node, node = a.program.parentOf(node)) {
    if (node.kind === 'Try' && node.catches.some(c => c.body === below)) return true;
    if (node.kind === 'Call' && isChain(node) && a.calleeName(node) === 'catch' && node.callee !== below) return true;
  }
  return false;
}

/** In a function that is made here, and that nobody gets before the step that may fail: it is returned, or kept, only after it. */
function isOutOfReach(a: Analysis, closing: Call, home: Fn, step: Call): boolean {
  let inner: Fn | undefined;
  let fn = a.program.enclosingFn(closing);
  for (; fn && fn !== home; fn = a.program.enclosingFn(fn)) inner = fn;
  if (!fn || !inner || a.isInlined(inner)) return false;
  const holder = a.program.parentOf(inner);
  const named = holder && a.program.parentOf(holder);
  if (inner.span.start > step.span.start) return true;
  const decl = holder?.kind === 'Lambda' && named?.kind === 'Let' ? a.resolver.declFor(named, named.bindings[0]) : undefined;
  return decl !== undefined && a.resolver.readsOf(decl).every(read => read.span.start > step.span.start);
}

/** In a `catch`, a `finally`, or a lambda given to one. */
function isHandler(a: Analysis, call: Call): boolean {
  let below: AnyNode = call;
  for (let node = a.program.parentOf(call); node; below = node, node = a.program.parentOf(node)) {
    if (node.kind === 'Try' && node.body !== below) return true;
    if (node.kind === 'Call' && isChain(node) && node.callee !== below) return true;
  }
  return false;
}
