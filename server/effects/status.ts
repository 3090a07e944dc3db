/**
 * Whether a callback looks at its status before it acts. The status is looked at when it (or a value computed from it)
 * decides a branch, or is handed to somebody who may look: a helper that tests it, an event object, a continuation.
 * Printing it is not looking, and neither is handing it to the platform's own empty `super` method.
 */
import type { AnyNode, Call, Expr, Fn, Param } from '../ir/ir.js';
import type { PlatformMember } from '../catalogue/types.js';
import type { Edge, Guard, Step } from '../flow/graph.js';
import { wayFrom } from '../flow/paths.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { closes } from './closing.js';
import { isLogCall, roleOf } from './roles.js';

export interface StatusUse {
  readonly fn: Fn;
  readonly type: string;
  readonly member: PlatformMember;
  readonly verdict: 'looked-at' | 'partly' | 'unread' | 'only-logs' | 'empty' | 'unknown';
  /** The first step that acts though the status was not looked at. */
  readonly acts?: AnyNode;
  /** It acts with the result that the callback delivers (a value, services, an MTU), or starts the next operation. */
  readonly consequence: 'uses-result' | 'starts-next' | 'other';
  /** onConnectionStateChange: what the code does when disconnected. */
  readonly disconnected?: 'closes' | 'does-not-close';
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

/** Whether a function of the project looks at a parameter in the sense above: directly, or through what it calls. */
export function looksAt(a: Analysis, fn: Fn, param: Param): boolean {
  return a.once<Param, boolean>('looks-at', param, true, () => {
    const decl = a.resolver.declFor(param);
    if (!decl || !fn.body) return true;
    return a.resolver.readsOf(decl).some(read => isLook(a, read));
  });
}

/** Whether one read of a status is more than printing it. */
function isLook(a: Analysis, read: Expr): boolean {
  return a.once<Expr, boolean>('is-look', read, false, () => {
    const parent = a.program.parentOf(read);
    if (!parent) return true;
    switch (parent.kind) {
      case 'ExprStmt': return false;
      case 'Call': return parent.callee === read || isLookInCall(a, parent, read);
      case 'Template': case 'Binary': case 'Unary': case 'Cast': case 'Is': case 'Choose':
        // `status == GATT_SUCCESS` in a log line is printing; as a condition or a value it is looking.
        return isLook(a, parent);
      case 'Member': {
        const call = a.program.parentOf(parent);
        return call?.kind === 'Call' && call.callee === parent && /^(?:toString|toHexString|toInt)$/.test(parent.name) ? isLook(a, call) : true;
      }
      case 'Let': {
        const decl = a.resolver.declFor(parent, parent.bindings[0]);
        return decl === undefined || a.resolver.readsOf(decl).some(inner => isLook(a, inner));
      }
      case 'Yield': {
        for (let up = a.program.parentOf(parent); up; up = a.program.parentOf(up)) {
          if (up.kind === 'Choose') return isLook(a, up);
          if (up.kind === 'Fn') break;
        }
        return true;
      }
      case 'Return': {
        const fn = a.program.enclosingFn(parent);
        const lambda = fn && a.program.parentOf(fn);
        const call = lambda?.kind === 'Lambda' ? a.program.parentOf(lambda) : undefined;
        return call?.kind === 'Call' && isLogCall(a, call) ? false : true;
      }
      default: return true;
    }
  });
}

function isLookInCall(a: Analysis, call: Call, read: Expr): boolean {
  if (isLogCall(a, call)) return false;
  const callee = a.resolver.calleeOf(call);
  if (isSuper(call) && callee.fns.length === 0) return false;
  if (callee.fns.length === 0 || !callee.complete) {
    // A function that makes text of it: who reads the text?
    const name = a.calleeName(call) ?? '';
    return /^(?:format|toString|toHexString|valueOf|statusText|decode\w*)$/.test(name) && callee.members.length > 0 ? isLook(a, call) : true;
  }
  return callee.fns.some(fn => {
    const param = fn.params.find(p => a.resolver.argumentFor(call, fn, p) === read);
    if (!param || !fn.body) return true;
    if (!looksAt(a, fn, param)) return false;
    // A function that only turns the status into something is as much a look as its result is.
    return isPure(a, fn) ? isLook(a, call) : true;
  });
}

function isPure(a: Analysis, fn: Fn): boolean {
  return a.once<Fn, boolean>('pure', fn, false, () => {
    let pure = fn.body !== undefined;
    if (fn.body) {
      a.eachBelow(fn.body, node => {
        if (node.kind === 'Assign' && node.target.kind !== 'Name') pure = false;
        if (node.kind === 'Call' && !isLogCall(a, node) && !a.resolver.calleeOf(node).constructs) pure = false;
        return pure ? undefined : 'skip';
      });
    }
    return pure;
  });
}

export function isSuper(call: Call): boolean {
  return call.callee.kind === 'Member' && call.callee.object.kind === 'This' && call.callee.object.of === 'super';
}

/** Reads that only ask: getters, conversions, tests of what a thing is. common practice, no source */
const ASKING = /^(?:get[A-Z]\w*|is[A-Z]\w*|has[A-Z]\w*|to[A-Z]\w*|contains\w*|equals|find|first\w*|filter\w*|any|all|none|map\w*|joinToString|format|copyOf|copyOfRange|contentToString|fromString|let|run|also|apply|with|isEmpty|isNotEmpty|indexOf|hashCode|checkSelfPermission|hasPermission|currentTimeMillis|elapsedRealtime|nanoTime|listOf|mapOf|arrayOf|byteArrayOf|Pair|uppercase|lowercase)$/;

class Reader {
  private readonly gates = new Set<AnyNode>();
  private readonly results: ReadonlySet<Decl>;

  constructor(
    private readonly a: Analysis, private readonly fn: Fn, private readonly param: Param,
    private readonly type: string, private readonly member: PlatformMember,
  ) {
    const carriers = (member.params ?? []).flatMap((p, i) => (p.is === 'payload' || p.is === 'mtu' || p.is === 'characteristic' || p.is === 'descriptor' || p.name === 'rssi' ? [fn.params[i]] : []));
    this.results = new Set(carriers.flatMap(p => (p ? [a.resolver.declFor(p)] : [])).filter(d => d !== undefined));
  }

  read(): StatusUse {
    const { a, fn, type, member } = this;
    const base = { fn, type, member } as const;
    if (fn.body!.stmts.length === 0) return { ...base, verdict: 'empty', consequence: 'other' };
    const decl = a.resolver.declFor(this.param);
    const graph = a.graph(fn);
    if (!graph) return { ...base, verdict: 'unknown', consequence: 'other' };
    const reads = decl ? a.resolver.readsOf(decl).filter(read => isLook(a, read)) : [];
    for (const read of reads) this.gate(read);
    const connection = member.name === 'onConnectionStateChange';
    const disconnected = connection ? { disconnected: this.closesWhenDisconnected() ? 'closes' as const : 'does-not-close' as const } : {};
    // Where the status is looked at at all, a flag that is put back before is bookkeeping.
    const acting = (step: Step): boolean => step.node !== undefined && !this.isGate(step) && this.acts(step.node) && !(reads.length > 0 && isReset(step.node));
    const way = wayFrom(graph.entry, acting, {
      step: step => this.isGate(step),
      edge: edge => this.isGateEdge(edge) || (connection && this.isDisconnectedEdge(edge)),
    });
    const acts = way?.at(-1)?.node;
    if (!acts) {
      if (reads.length > 0) return { ...base, ...disconnected, verdict: 'looked-at', consequence: 'other' };
      return { ...base, ...disconnected, verdict: 'only-logs', consequence: 'other' };
    }
    return { ...base, ...disconnected, verdict: reads.length > 0 ? 'partly' : 'unread', acts, consequence: this.consequence(acts) };
  }

  /** Everything from a read up to its statement looks at the status once it is evaluated. */
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

  private isDisconnectedEdge(edge: Edge): boolean {
    return disconnectedGuard(this.a, edge.when, this.stateParam()) === true;
  }

  private stateParam(): Param | undefined {
    const at = this.member.params?.findIndex(p => p.is === 'state') ?? -1;
    return at >= 0 ? this.fn.params[at] : undefined;
  }

  /** Whether a step does something that a failed operation should not do. */
  private acts(node: AnyNode): boolean {
    const { a } = this;
    if (node.kind === 'Assign') {
      const target = node.target;
      if (target.kind === 'Name' || target.kind === 'Member') {
        const decl = a.resolver.declOf(target);
        if (decl?.is === 'local') return false;
      }
      return true;
    }
    if (node.kind !== 'Call') return false;
    if (isLogCall(a, node) || isSuper(node)) return false;
    const name = a.calleeName(node) ?? '';
    if (roleOf(a, node)?.does.has('closes-link') || roleOf(a, node)?.does.has('disconnects-link')) return false;
    if (roleOf(a, node)?.does.size) return true;
    const callee = a.resolver.calleeOf(node);
    if (node.args.some(arg => arg.value.kind === 'Lambda' && a.isInlined(arg.value.fn))) return false;
    if (callee.constructs) return false;
    if (callee.fns.length > 0) return !callee.fns.every(fn => isPure(a, fn) || isLogCall(a, node));
    if (callee.members.length > 0 && ASKING.test(name)) return false;
    // An unknown function whose value somebody takes may only compute; one whose value nobody takes does something.
    const parent = a.program.parentOf(node);
    const valueTaken = parent?.kind !== 'ExprStmt' && !(parent?.kind === 'Return' && parent.implicit);
    return !ASKING.test(name) && !valueTaken;
  }

  private consequence(node: AnyNode): StatusUse['consequence'] {
    const { a } = this;
    if (node.kind === 'Call' && roleOf(a, node)?.does.has('starts-operation')) return 'starts-next';
    let uses = false;
    a.eachBelow(this.fn.body!, below => {
      if (below.kind === 'Name') {
        const decl = a.resolver.declOf(below);
        if (decl && this.results.has(decl)) uses = true;
      }
      if (below.kind === 'Member' && /^(?:services|getService|getServices)$/.test(below.name) && this.member.name === 'onServicesDiscovered') uses = true;
      return uses ? 'skip' : undefined;
    });
    return uses ? 'uses-result' : 'other';
  }

  private closesWhenDisconnected(): boolean {
    let found = false;
    this.a.eachBelow(this.fn.body!, node => {
      if (node.kind === 'Call' && closes(this.a, node)) found = true;
      return found ? 'skip' : undefined;
    });
    return found;
  }
}

function isReset(node: AnyNode): boolean {
  return node.kind === 'Assign' && node.value.kind === 'Literal' && node.op === undefined;
}

function isStatement(node: AnyNode): boolean {
  return node.kind === 'ExprStmt' || node.kind === 'Let' || node.kind === 'Branch' || node.kind === 'Loop' || node.kind === 'Block' || node.kind === 'Assign' || node.kind === 'Return' || node.kind === 'Throw';
}

function guardValue(guard: Guard | undefined): Expr | undefined {
  if (!guard) return undefined;
  return guard.is === 'condition' ? guard.test : guard.is === 'match' ? guard.subject : guard.is === 'null' ? guard.value : undefined;
}

/** Whether an edge means "the link is down": true, false (it is up), or nothing about it. */
export function disconnectedGuard(a: Analysis, guard: Guard | undefined, state: Param | undefined): boolean | undefined {
  const decl = state && a.resolver.declFor(state);
  const isState = (expr: Expr): boolean => expr.kind === 'Name' && decl !== undefined && a.resolver.declOf(expr) === decl;
  if (!guard || !decl) return undefined;
  let value: number | undefined;
  let equal: boolean | undefined;
  if (guard.is === 'match' && isState(guard.subject) && 'when' in guard.test) {
    value = a.resolver.constants.whole(guard.test.when);
    equal = guard.holds;
  } else if (guard.is === 'condition' && guard.test.kind === 'Binary' && (guard.test.op === '==' || guard.test.op === '!=')) {
    const { left, right, op } = guard.test;
    const other = isState(left) ? right : isState(right) ? left : undefined;
    value = other && a.resolver.constants.whole(other);
    equal = (op === '==') === guard.holds;
  }
  if (value === undefined || equal === undefined) return undefined;
  // BluetoothProfile.STATE_DISCONNECTED 0, STATE_CONNECTING 1, STATE_CONNECTED 2, STATE_DISCONNECTING 3.
  if (value === 2) return !equal;
  if (value === 0 || value === 3) return equal ? true : undefined;
  return undefined;
}
