/**
 * Whether a callback looks at its status before it acts: on every way to a step that uses the result, goes on or reports
 * success, the status has decided a branch or was handed to somebody who may look (`looks.ts`).
 */
import type { AnyNode, Block, Branch, Expr, Fn, Param, Stmt, Test } from '../ir/ir.js';
import type { PlatformMember } from '../catalogue/types.js';
import type { Edge, Graph, Guard, Step } from '../flow/graph.js';
import { wayFrom } from '../flow/paths.js';
import type { Decl } from '../resolve/api.js';
import { assignsOutside, callActs, deferredFns, isSuper } from './acting.js';
import type { Analysis } from './analysis.js';
import { closesSomewhere, closes } from './closing.js';
import { lookOf } from './looks.js';
import { isLogCall, roleOf } from './roles.js';

export interface StatusUse {
  readonly fn: Fn;
  readonly type: string;
  readonly member: PlatformMember;
  readonly param: Param;
  readonly verdict:
    | 'looked-at'
    /** Looked at on some ways, and the result is used, or the next operation started, on another. */
    | 'partly'
    /** Looked at, with the same outcome whatever it says. */
    | 'same-outcome'
    | 'unread'
    | 'only-logs'
    /** Nothing is done, not even told. */
    | 'empty'
    | 'unknown';
  /** The first step that acts though the status was not looked at. */
  readonly acts?: AnyNode;
  /** It acts with the result that the callback delivers (a value, services, an MTU), or starts the next operation. */
  readonly consequence: 'uses-result' | 'starts-next' | 'other';
  /** onConnectionStateChange: what the code does when disconnected. */
  readonly disconnected?: 'closes' | 'does-not-close';
  /** The statements of the branch for a link that is down, where they need nothing that was made before. */
  readonly whenDown?: { readonly stmts: readonly Stmt[]; readonly closes: boolean };
  /** The statements of the body that use what the callback brings. */
  readonly results: ReadonlySet<Stmt>;
}

/** The status of every callback of a file that has one. */
export function statusOf(a: Analysis, fn: Fn): StatusUse | undefined {
  return a.once<Fn, StatusUse | undefined>('status', fn, undefined, () => {
    const callback = a.resolver.isPlatformCallback(fn);
    const at = callback?.member.params?.findIndex(p => p.is === 'status') ?? -1;
    const param = callback && at >= 0 ? fn.params[at] : undefined;
    if (!callback || !param || !fn.body) return undefined;
    return new Reader(a, fn, param, callback.type, callback.member).read();
  });
}

class Reader {
  private readonly gates = new Set<AnyNode>();
  private readonly results: ReadonlySet<Decl>;
  private readonly attributes: ReadonlySet<Decl>;

  constructor(
    private readonly a: Analysis, private readonly fn: Fn, private readonly param: Param,
    private readonly type: string, private readonly member: PlatformMember,
  ) {
    const { name } = member;
    this.results = this.declsOf(p => p.is === 'payload' || p.is === 'mtu' || p.name === 'rssi');
    // What was read stands in the attribute; what was written was known before.
    this.attributes = /Read$/.test(name) ? this.declsOf(p => p.is === 'characteristic' || p.is === 'descriptor') : new Set();
  }

  private declsOf(wanted: (param: NonNullable<PlatformMember['params']>[number]) => boolean): ReadonlySet<Decl> {
    const params = (this.member.params ?? []).flatMap((p, i) => (wanted(p) && this.fn.params[i] ? [this.fn.params[i]!] : []));
    return new Set(params.flatMap(param => this.a.resolver.declFor(param) ?? []));
  }

  read(): StatusUse {
    const { a, fn, type, member, param } = this;
    const graph = a.graph(fn);
    const connection = member.name === 'onConnectionStateChange';
    const base = {
      fn, type, member, param, consequence: 'other' as const,
      results: new Set(fn.body!.stmts.filter(stmt => this.usesResult(stmt))),
      ...(connection && graph && { disconnected: this.closesWhenDisconnected(graph) ? 'closes' as const : 'does-not-close' as const }),
      ...(connection && this.whenDown()),
    };
    if (!graph) return { ...base, verdict: 'unknown' };
    const decl = a.resolver.declFor(param);
    const reads = decl ? a.resolver.readsOf(decl) : [];
    const looks = reads.filter(read => lookOf(a, read) === 'look');
    const remarks = reads.filter(read => lookOf(a, read) === 'remark');

    for (const read of [...looks, ...remarks]) this.gate(read);
    const serious = this.firstAct(graph, node => this.isSerious(node));
    if (serious && (looks.length > 0 || remarks.length > 0)) return { ...base, verdict: 'partly', acts: serious, consequence: this.consequenceOf(serious) };
    if (looks.length > 0) return { ...base, verdict: 'looked-at' };

    this.gates.clear();
    const acts = this.firstAct(graph, node => this.acts(node));
    if (acts) return { ...base, verdict: remarks.length > 0 ? 'same-outcome' : 'unread', acts, consequence: this.consequence() };
    if (remarks.length > 0) return { ...base, verdict: 'looked-at' };
    return { ...base, verdict: this.tells() ? 'only-logs' : 'empty' };
  }

  /** The first step that acts in that way on a way that no look stands on, and on which a link is not known to be down. */
  private firstAct(graph: Graph, acting: (node: AnyNode) => boolean): AnyNode | undefined {
    const connection = this.member.name === 'onConnectionStateChange';
    const way = wayFrom(graph.entry, step => step.node !== undefined && !this.isGate(step) && acting(step.node), {
      step: step => this.isGate(step),
      edge: edge => this.isGateEdge(edge) || (connection && disconnectedGuard(this.a, edge.when, this.stateParam()) === true),
    });
    return way?.at(-1)?.node;
  }

  // ---- Gates --------------------------------------------------------------

  /** Everything from a look up to its statement looks at the status once it is evaluated. */
  private gate(read: Expr): void {
    for (let node: AnyNode | undefined = read; node && node !== this.fn; node = this.a.program.parentOf(node)) {
      this.gates.add(node);
      if (node.kind === 'Let') for (const inner of this.readsOfLet(node)) this.gate(inner);
      if (isStatement(node)) break;
      if (node.kind === 'Fn' && this.a.isInlined(node)) break;
    }
  }

  private readsOfLet(node: AnyNode & { kind: 'Let' }): readonly Expr[] {
    const decl = this.a.resolver.declFor(node, node.bindings[0]);
    return decl ? this.a.resolver.readsOf(decl).filter(read => !this.gates.has(read)) : [];
  }

  /** A look that is no condition by itself: handing it on, keeping it, testing it in a deferred lambda. */
  private isGate(step: Step): boolean {
    const { node } = step;
    if (!node || !this.gates.has(node)) return false;
    return node.kind === 'Call' || node.kind === 'Assign' || node.kind === 'Return' || node.kind === 'Lambda' || node.kind === 'ObjectExpr' || node.kind === 'Name';
  }

  private isGateEdge(edge: Edge): boolean {
    const value = guardValue(edge.when);
    return value !== undefined && this.gates.has(value);
  }

  private stateParam(): Param | undefined {
    const at = this.member.params?.findIndex(p => p.is === 'state') ?? -1;
    return at >= 0 ? this.fn.params[at] : undefined;
  }

  // ---- Acting -------------------------------------------------------------

  /** Whether a step does something that a failed operation should not do. */
  private acts(node: AnyNode): boolean {
    if (node.kind === 'Assign') return assignsOutside(this.a, node);
    if (node.kind !== 'Call') return false;
    const inside = deferredFns(this.a, node);
    if (inside.length > 0) return inside.some(fn => this.actsLater(fn, below => this.acts(below)));
    // What a lambda does that runs on the spot stands on the way already.
    if (node.args.some(arg => arg.value.kind === 'Lambda')) return false;
    return callActs(this.a, node);
  }

  /** It does so with what the callback brings, or starts an operation: nothing of that is due after a failure. */
  private isSerious(node: AnyNode): boolean {
    if (node.kind !== 'Call' && node.kind !== 'Assign') return false;
    const inside = node.kind === 'Call' ? deferredFns(this.a, node) : [];
    if (inside.length > 0) return inside.some(fn => this.actsLater(fn, below => this.isSerious(below)));
    if (!this.acts(node)) return false;
    if (node.kind === 'Call' && roleOf(this.a, node)?.does.has('starts-operation')) return true;
    return this.usesResult(node);
  }

  /** A function among the arguments acts on a way of its own on which nobody looks. */
  private actsLater(fn: Fn, acting: (node: AnyNode) => boolean): boolean {
    const graph = this.a.graph(fn);
    return graph !== undefined && this.firstAct(graph, acting) !== undefined;
  }

  private usesResult(root: AnyNode): boolean {
    const { a } = this;
    let uses = false;
    a.eachBelow(root, node => {
      if (node.kind === 'Call' && (isLogCall(a, node) || isSuper(node))) return 'skip';
      if (this.isResult(node)) uses = true;
      return uses ? 'skip' : undefined;
    });
    return uses;
  }

  private isResult(node: AnyNode): boolean {
    const { a } = this;
    if (node.kind === 'Member' && this.member.name === 'onServicesDiscovered') return /^(?:services|getService|getServices)$/.test(node.name);
    if (node.kind !== 'Name') return false;
    const decl = a.resolver.declOf(node);
    if (decl === undefined) return false;
    if (this.results.has(decl)) return true;
    if (!this.attributes.has(decl)) return false;
    // Its address says nothing; its value, and the attribute as a whole, do.
    const parent = a.program.parentOf(node);
    return parent?.kind === 'Member' ? /[vV]alue$/.test(parent.name) : parent?.kind === 'Call' && !/^(?:remove|contains|get|indexOf)\w*$/.test(a.calleeName(parent) ?? '');
  }

  private consequenceOf(node: AnyNode): StatusUse['consequence'] {
    return node.kind === 'Call' && roleOf(this.a, node)?.does.has('starts-operation') ? 'starts-next' : 'uses-result';
  }

  private consequence(): StatusUse['consequence'] {
    return this.usesResult(this.fn.body!) ? 'uses-result' : 'other';
  }

  private tells(): boolean {
    let tells = false;
    this.a.eachBelow(this.fn.body!, node => {
      if (node.kind === 'Call' && isLogCall(this.a, node)) tells = true;
      return tells ? 'skip' : undefined;
    });
    return tells && this.member.name !== 'onConnectionStateChange';
  }

  /** The one branch for a link that is down, where it stands by itself. */
  private whenDown(): Pick<StatusUse, 'whenDown'> {
    const { a, fn } = this;
    const bodies: Block[] = [];
    a.eachBelow(fn.body!, node => {
      if (node.kind === 'Branch') bodies.push(...downArms(a, node, this.stateParam()));
      return node.kind === 'Fn' ? 'skip' : undefined;
    });
    const [body, ...others] = bodies;
    if (!body || others.length > 0 || body.stmts.length > 6 || body.stmts.some(stmt => stmt.kind === 'Let' || stmt.kind === 'LocalDecl') || !standsByItself(a, body, fn)) return {};
    return { whenDown: { stmts: body.stmts, closes: closesSomewhere(a, body) } };
  }

  /** A call that closes is reached when the link is down. */
  private closesWhenDisconnected(graph: Graph): boolean {
    const { a } = this;
    const closing = (node: AnyNode): boolean => node.kind === 'Call' && (closes(a, node) || deferredFns(a, node).some(fn => closesSomewhere(a, fn)));
    return wayFrom(graph.entry, step => step.node !== undefined && closing(step.node), {
      edge: edge => disconnectedGuard(a, edge.when, this.stateParam()) === false,
    }) !== undefined;
  }
}

function isStatement(node: AnyNode): boolean {
  return node.kind === 'ExprStmt' || node.kind === 'Let' || node.kind === 'Branch' || node.kind === 'Loop' || node.kind === 'Block' || node.kind === 'Assign' || node.kind === 'Return' || node.kind === 'Throw';
}

function guardValue(guard: Guard | undefined): Expr | undefined {
  if (!guard) return undefined;
  return guard.is === 'condition' ? guard.test : guard.is === 'match' ? guard.subject : guard.is === 'null' ? guard.value : undefined;
}

/** Whether an edge means "the link is down": true, false (it is up), or nothing about it. */
function disconnectedGuard(a: Analysis, guard: Guard | undefined, state: Param | undefined): boolean | undefined {
  const decl = state && a.resolver.declFor(state);
  if (!guard || !decl) return undefined;
  const isState = (expr: Expr): boolean => expr.kind === 'Name' && a.resolver.declOf(expr) === decl;
  if (guard.is === 'match') return isState(guard.subject) && 'when' in guard.test ? meaning(a, guard.test.when, guard.holds) : undefined;
  const test = guard.is === 'condition' ? valueOf(a, guard.test) : undefined;
  if (guard.is !== 'condition' || test?.kind !== 'Binary' || (test.op !== '==' && test.op !== '!=')) return undefined;
  const other = isState(test.left) ? test.right : isState(test.right) ? test.left : undefined;
  return other && meaning(a, other, (test.op === '==') === guard.holds);
}

/** The arms of a branch that are taken when the state says that the link is down. */
function downArms(a: Analysis, branch: Branch, state: Param | undefined): readonly Block[] {
  const says = (test: Test): boolean | undefined => {
    if (branch.subject) return disconnectedGuard(a, { is: 'match', subject: branch.subject, test, holds: true }, state);
    return 'when' in test ? disconnectedGuard(a, { is: 'condition', test: test.when, holds: true }, state) : undefined;
  };
  const up = branch.arms.some(arm => arm.tests.some(test => says(test) === false));
  return branch.arms.filter(arm => arm.tests.some(test => says(test) === true) || (up && branch.arms.length === 2 && arm.tests.length === 0)).map(arm => arm.body);
}

/** It reads no local of the function around it, and does not leave it. */
function standsByItself(a: Analysis, body: Block, fn: Fn): boolean {
  let alone = true;
  a.eachBelow(body, node => {
    const decl = node.kind === 'Name' ? a.resolver.declOf(node) : undefined;
    if (decl?.is === 'local' && a.home(decl.node) === fn) alone = false;
    if (node.kind === 'Return' && !node.implicit) alone = false;
    return alone ? undefined : 'skip';
  });
  return alone;
}

/** `val connected = newState == STATE_CONNECTED`: the condition behind a name that is set once. */
function valueOf(a: Analysis, test: Expr): Expr {
  const decl = test.kind === 'Name' ? a.resolver.declOf(test) : undefined;
  const [write, ...more] = decl?.is === 'local' ? a.resolver.writesTo(decl) : [];
  return write?.value && more.length === 0 ? write.value : test;
}

/** What equality with a state, or the lack of it, says. */
function meaning(a: Analysis, state: Expr, equal: boolean): boolean | undefined {
  const value = a.resolver.constants.whole(state);
  // BluetoothProfile.STATE_DISCONNECTED 0, STATE_CONNECTING 1, STATE_CONNECTED 2, STATE_DISCONNECTING 3.
  if (value === 2) return !equal;
  if (value === 0 || value === 3) return equal ? true : undefined;
  return undefined;
}
