/**
 * The life of every link that the program opens: who holds it, and whether anything that holds it gives it back. A holder
 * that cannot be known (returned to callers outside, handed to unknown code) makes no finding.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import { wayFrom } from '../flow/paths.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { closers, closes, flagBefore, followed, liveWays, type Closed, type Closer } from './closing.js';
import { callsDoing } from './operations.js';
import { roleOf } from './roles.js';
import { runOf } from './runs.js';
import { waysTo, type Way } from './ways.js';

export interface LinkLife {
  readonly open: Call;
  readonly holders: readonly Holder[];
  readonly verdict: Verdict;
}

export type Holder =
  | { readonly is: 'decl'; readonly decl: Decl }
  /** The result is thrown away; the callback object alone ever sees the link. */
  | { readonly is: 'dropped' }
  | { readonly is: 'caller'; readonly fn: Fn }
  | { readonly is: 'unknown' };

export type Verdict =
  | { readonly is: 'closed'; readonly by: readonly Closer[] }
  | { readonly is: 'unknown' }
  | { readonly is: 'dropped'; readonly closedInCallback: boolean }
  | { readonly is: 'never-closed'; readonly disconnects: readonly Call[] }
  /** Something closes it, but nothing ever gets there. */
  | { readonly is: 'unreached'; readonly by: readonly Closer[] }
  /** Closed only while a flag holds: a link that is pending or lost stays open. */
  | { readonly is: 'behind-flag'; readonly by: readonly Closer[]; readonly flag: Expr }
  /** Opened again and again, the one before forgotten: for every value of a stream, or in each round of a loop. */
  | { readonly is: 'overwritten'; readonly by: Way | 'loop' };

export function linksOpened(a: Analysis): readonly Call[] {
  return callsDoing(a, 'opens-link');
}

export function lifeOf(a: Analysis, open: Call): LinkLife {
  return a.once<Call, LinkLife>('life', open, { open, holders: [], verdict: { is: 'unknown' } }, () => {
    const holders = [...heldByDevice(a, open), ...holdersOf(a, open)];
    return { open, holders, verdict: judge(a, open, holders) };
  });
}

/** In Web Bluetooth a device keeps its server: whoever has the device can disconnect it, whatever became of the result. */
function heldByDevice(a: Analysis, open: Call): readonly Holder[] {
  const receiver = a.resolver.calleeOf(open).receiver;
  if (receiver?.ty?.name !== 'BluetoothRemoteGATTServer' || !receiver.expr) return [];
  return followed(a, receiver.expr).flatMap((closed): readonly Holder[] => (closed.is === 'decl' ? [{ is: 'decl', decl: closed.decl }] : []));
}

// ---- Who holds it --------------------------------------------------------

function holdersOf(a: Analysis, value: Expr, depth = 0): readonly Holder[] {
  const unknown: readonly Holder[] = [{ is: 'unknown' }];
  const parent = a.program.parentOf(value);
  if (!parent || depth > 10) return unknown;
  switch (parent.kind) {
    case 'ExprStmt': return [{ is: 'dropped' }];
    case 'Unary': case 'Cast': case 'Choose': case 'Await': return holdersOf(a, parent, depth + 1);
    case 'Binary': return parent.op === '??' ? holdersOf(a, parent, depth + 1) : [{ is: 'dropped' }];
    case 'Yield': {
      for (let up = a.program.parentOf(parent); up; up = a.program.parentOf(up)) if (up.kind === 'Choose') return holdersOf(a, up, depth + 1);
      return unknown;
    }
    case 'Let': return fromLet(a, parent, depth);
    case 'Field': {
      const decl = a.resolver.declFor(parent);
      return decl ? [{ is: 'decl', decl }] : unknown;
    }
    case 'Assign': return parent.value === value ? intoTarget(a, parent.target, depth) : unknown;
    case 'Return': return fromReturn(a, parent, depth);
    case 'Call': return intoCall(a, parent, value, depth);
    case 'Member': return asReceiver(a, parent, depth);
    default: return unknown;
  }
}

function fromLet(a: Analysis, parent: AnyNode & { kind: 'Let' }, depth: number): readonly Holder[] {
  const decl = a.resolver.declFor(parent, parent.bindings[0]);
  if (!decl) return [{ is: 'unknown' }];
  const further = a.resolver.readsOf(decl).flatMap(read => holdersOfRead(a, read, depth + 1));
  return [{ is: 'decl', decl }, ...further];
}

/** A name that is read again: only what keeps the link counts, not what merely uses it. */
function holdersOfRead(a: Analysis, read: Expr, depth: number): readonly Holder[] {
  const parent = a.program.parentOf(read);
  if (parent?.kind === 'Member' || parent?.kind === 'ExprStmt' || parent?.kind === 'Branch' || (parent?.kind === 'Binary' && parent.op !== '??')) return [];
  if (parent?.kind === 'Binary') return holdersOf(a, parent, depth).filter(h => h.is !== 'dropped');
  return holdersOf(a, read, depth).filter(h => h.is !== 'dropped');
}

function intoTarget(a: Analysis, target: Expr, depth: number): readonly Holder[] {
  if (target.kind === 'Index') return intoTarget(a, target.object, depth);
  if (target.kind !== 'Name' && target.kind !== 'Member') return [{ is: 'unknown' }];
  const decl = a.resolver.declOf(target);
  return decl ? [{ is: 'decl', decl }] : [{ is: 'unknown' }];
}

function fromReturn(a: Analysis, stmt: AnyNode & { kind: 'Return' }, depth: number): readonly Holder[] {
  const fn = a.program.enclosingFn(stmt);
  const holder = fn && a.program.parentOf(fn);
  if (!fn) return [{ is: 'unknown' }];
  if (holder?.kind === 'Lambda') {
    const call = a.program.parentOf(holder);
    const run = call?.kind === 'Call' ? runOf(a, call, holder) : undefined;
    if (!run) return [{ is: 'unknown' }];
    if (run.through) return fromInvocations(a, run.through.param, depth);
    if (run.runner?.yields === 'lambda' || run.runner?.yields === 'lambda-or-null') return holdersOf(a, run.call, depth + 1);
    return run.value === 'dropped' ? [{ is: 'dropped' }] : [{ is: 'unknown' }];
  }
  const field = holder?.kind === 'Field' ? a.resolver.declFor(holder) : undefined;
  if (field) return [{ is: 'decl', decl: field }];
  const callers = a.resolver.callersOf(fn);
  if (callers.length === 0) return [{ is: 'caller', fn }];
  return callers.flatMap(call => holdersOf(a, call, depth + 1));
}

/** What the function that was given a lambda does with the link that it yields. */
function fromInvocations(a: Analysis, param: Fn['params'][number], depth: number): readonly Holder[] {
  const decl = a.resolver.declFor(param);
  const calls = (decl ? a.resolver.readsOf(decl) : []).map(read => {
    const up = a.program.parentOf(read);
    return up?.kind === 'Call' && up.callee === read ? up : up?.kind === 'Member' && up.name === 'invoke' ? a.program.parentOf(up) : undefined;
  });
  return calls.length === 0 ? [{ is: 'unknown' }] : calls.flatMap(call => (call?.kind === 'Call' ? holdersOf(a, call, depth + 1) : [{ is: 'unknown' } as const]));
}

function intoCall(a: Analysis, call: Call, value: Expr, depth: number): readonly Holder[] {
  if (call.callee === value) return [{ is: 'unknown' }];
  const callee = a.resolver.calleeOf(call);
  const name = a.calleeName(call) ?? '';
  if (call.callee.kind === 'Member' && /^(?:put|add|set|plus|getOrPut|offer|push|compareAndSet|getAndSet|putIfAbsent)$/.test(name) && callee.fns.length === 0) {
    return intoTarget(a, call.callee.object, depth + 1);
  }
  if (callee.constructs && 'kind' in callee.constructs && callee.constructs.kind === 'Class') {
    const cls = callee.constructs;
    const ctor = cls.constructors[0];
    const param = ctor?.params.find(p => a.resolver.argumentFor(call, ctor, p) === value);
    const field = param && cls.fields.find(f => f.fromParam && f.name === param.name);
    const decl = field && a.resolver.declFor(field);
    return decl ? [{ is: 'decl', decl }] : [{ is: 'unknown' }];
  }
  // `state.copy(gatt = …)` of a data class.
  const named = call.args.find(arg => arg.value === value)?.name;
  if (name === 'copy' && named !== undefined && call.callee.kind === 'Member') {
    const cls = a.resolver.typeOf(call.callee.object)?.class;
    const field = cls?.fields.find(f => f.name === named);
    const decl = field && a.resolver.declFor(field);
    return decl ? [{ is: 'decl', decl }] : [{ is: 'unknown' }];
  }
  if (callee.fns.length === 0) return [{ is: 'unknown' }];
  return callee.fns.flatMap((fn): readonly Holder[] => {
    const param = fn.params.find(p => a.resolver.argumentFor(call, fn, p) === value);
    const decl = param && a.resolver.declFor(param);
    return decl ? [{ is: 'decl', decl }, ...a.resolver.readsOf(decl).flatMap(read => holdersOfRead(a, read, depth + 1))] : [{ is: 'unknown' }];
  });
}

/** `connectGatt(…).also { gatt = it }`, `.apply { … }`, or a call on the fresh link whose own value goes on. */
function asReceiver(a: Analysis, member: Expr & { kind: 'Member' }, depth: number): readonly Holder[] {
  const call = a.program.parentOf(member);
  if (call?.kind !== 'Call' || call.callee !== member) return [{ is: 'dropped' }];
  const lambda = call.args.at(-1)?.value;
  const run = lambda?.kind === 'Lambda' ? runOf(a, call, lambda) : undefined;
  if (lambda?.kind !== 'Lambda' || !run?.runner) return [{ is: 'dropped' }];
  const found: Holder[] = [];
  const param = lambda.fn.params[0];
  const decl = run.runner.passes?.[0] === 'receiver' && param ? a.resolver.declFor(param) : undefined;
  if (decl) found.push({ is: 'decl', decl }, ...a.resolver.readsOf(decl).flatMap(read => holdersOfRead(a, read, depth + 1)));
  if (run.runner.yields === 'receiver') found.push(...holdersOf(a, call, depth + 1).filter(h => h.is !== 'dropped' || found.length === 0));
  return found.length > 0 ? found : [{ is: 'dropped' }];
}

// ---- The verdict ---------------------------------------------------------

function judge(a: Analysis, open: Call, holders: readonly Holder[]): Verdict {
  if (holders.length === 0 || holders.some(h => h.is === 'unknown' || h.is === 'caller')) return { is: 'unknown' };
  const callbacks = callbackFunctions(a, open);
  const decls = new Set(holders.flatMap(h => (h.is === 'decl' ? [h.decl] : [])));
  const mine = closers(a).filter(closer => closer.closed.some(c => concerns(c, decls, callbacks)));
  if (decls.size === 0) return { is: 'dropped', closedInCallback: mine.length > 0 };
  const language = a.fileOf(open)?.language;
  const unsure = closers(a).filter(closer => closer.closed.every(c => c.is === 'unknown') && a.fileOf(closer.call)?.language === language);
  const live = mine.filter(closer => liveWays(a, closer.call).length > 0);
  if (live.length === 0) {
    if (unsure.length > 0) return { is: 'unknown' };
    if (mine.length > 0) return { is: 'unreached', by: mine };
    return { is: 'never-closed', disconnects: disconnectsOf(a, decls, callbacks) };
  }
  const flags = live.map(closer => flagOf(a, closer));
  if (flags.every(flag => flag !== undefined) && unsure.length === 0) return { is: 'behind-flag', by: live, flag: flags[0]! };
  if (isOverwrittenInLoop(a, open, decls)) return { is: 'overwritten', by: 'loop' };
  const stream = overwrittenBy(a, open, decls);
  return stream ? { is: 'overwritten', by: stream } : { is: 'closed', by: live };
}

function concerns(closed: Closed, decls: ReadonlySet<Decl>, callbacks: ReadonlySet<Fn> | undefined): boolean {
  if (closed.is === 'decl') return decls.has(closed.decl);
  return closed.is === 'callback-link' && (callbacks === undefined || callbacks.has(closed.fn));
}

/** The functions of the callback object that a link is opened with; undefined when it is not known which that is. */
function callbackFunctions(a: Analysis, open: Call): ReadonlySet<Fn> | undefined {
  const role = roleOf(a, open);
  const found = new Set<Fn>();
  for (const arg of open.args) {
    const cls = a.resolver.typeOf(arg.value)?.class;
    const platform = cls && a.resolver.platformOf(cls);
    if (!cls || !platform || !/Callback$/.test(platform.name)) continue;
    for (const each of [cls, ...a.resolver.superclassesOf(cls), ...a.resolver.subclassesOf(cls)]) each.functions.forEach(fn => found.add(fn));
  }
  return role && found.size > 0 ? found : undefined;
}

function flagOf(a: Analysis, closer: Closer): Expr | undefined {
  const at = a.stepsOf(closer.call);
  if (!at) return undefined;
  const flags = at.steps.map(step => flagBefore(a, at.graph, step));
  return flags.every(flag => flag !== undefined) ? flags[0] : undefined;
}

function disconnectsOf(a: Analysis, decls: ReadonlySet<Decl>, callbacks: ReadonlySet<Fn> | undefined): readonly Call[] {
  return callsDoing(a, 'disconnects-link').filter(call => {
    const receiver = a.resolver.calleeOf(call).receiver?.expr;
    if (!receiver || (receiver.kind !== 'Name' && receiver.kind !== 'Member')) return false;
    const decl = a.resolver.declOf(receiver);
    if (!decl) return false;
    return decls.has(decl) || (decl.is === 'param' && callbacks?.has(decl.fn) === true);
  });
}

/** A way round a loop from the opening to itself on which nothing closes: a retry that forgets the attempt before. */
function isOverwrittenInLoop(a: Analysis, open: Call, decls: ReadonlySet<Decl>): boolean {
  const at = a.stepsOf(open);
  if (!at || ![...decls].some(decl => decl.is === 'field')) return false;
  return at.steps.some(step => wayFrom(step, other => other === step, { step: s => s.node?.kind === 'Call' && closes(a, s.node) }) !== undefined);
}

const SCAN_CALLBACKS = /^(?:onScanResult|onBatchScanResults|onLeScan)$/;

/** A scan result opens a link each time it comes, into the same place, and nothing on the way asks whether one is open. */
function overwrittenBy(a: Analysis, open: Call, decls: ReadonlySet<Decl>): Way | undefined {
  if (![...decls].some(decl => decl.is === 'field')) return undefined;
  for (const way of waysTo(a, open)) {
    if (way.start.is !== 'callback' || !SCAN_CALLBACKS.test(way.start.member.name)) continue;
    const places: AnyNode[] = [open, ...way.calls];
    if (!places.some(place => isConditional(a, place))) return way;
  }
  return undefined;
}

/** Whether state that outlives the function is asked before a place, or the same place stops the scan. */
function isConditional(a: Analysis, place: AnyNode): boolean {
  const at = a.stepsOf(place as Expr);
  if (!at) return true;
  const { graph } = at;
  return graph.steps.some(step => step.node?.kind === 'Call' && (roleOf(a, step.node)?.does.has('stops-scan') === true || roleOf(a, step.node)?.does.has('closes-link') === true))
    || graph.steps.some(step => step.next.some(edge => {
      const test = edge.when?.is === 'condition' ? edge.when.test : edge.when?.is === 'null' ? edge.when.value : undefined;
      return test !== undefined && readsField(a, test);
    }));
}

function readsField(a: Analysis, test: Expr): boolean {
  let found = false;
  a.eachBelow(test, node => {
    if (node.kind === 'Name' || node.kind === 'Member') {
      const decl = a.resolver.declOf(node);
      if (decl?.is === 'field' && decl.node.mutable) found = true;
    }
    return found ? 'skip' : undefined;
  });
  return found;
}
