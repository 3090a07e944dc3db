/** Where a link that is not closed could be: what a fix needs to know about the code around it. Nothing here judges. */
import type { AnyNode, Assign, Block, Branch, Call, Class, Expr, Field, Fn, Param, Stmt } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import type { Holder } from './holders.js';
import { lifecycleFor } from './ways.js';

export interface ClosingPlaces {
  /** The only field that holds the link itself, no collection or holder of state. */
  readonly field?: Field;
  /** What the platform calls when the object with that field comes to its end, what it calls in any case first. */
  readonly teardowns: readonly Fn[];
  /** What the callback does when the link has ended, and when an attempt has failed; `link` is what it was given. */
  readonly ended: readonly Ended[];
  readonly failed: readonly Ended[];
  /** Where the field is emptied. */
  readonly emptied: readonly Assign[];
  /** Another link may be in the field when this one is put there. */
  readonly overwrites: boolean;
  /** The named class around the opening, which could keep the link, and a field for links that it has. */
  readonly keeper?: { readonly cls: Class; readonly field?: Field };
  /** Statements that leave the function without closing. */
  readonly exits: readonly Stmt[];
}

export interface Ended { readonly block: Block; readonly link: Param }

export function placesFor(
  a: Analysis, open: Call, holders: readonly Holder[], callbacks: ReadonlySet<Fn>, more: { readonly overwrites: boolean; readonly exits: readonly Stmt[] },
): ClosingPlaces {
  const type = a.resolver.calleeOf(open).members[0]?.name === 'openGattServer' ? 'BluetoothGattServer' : 'BluetoothGatt';
  const decls = new Set(holders.flatMap(h => (h.is === 'decl' && h.decl.is === 'field' && h.keeps === 'one' ? [h.decl] : [])));
  const [decl, ...others] = decls;
  const field = decl && others.length === 0 && isPlain(a, decl.node, type) ? decl.node : undefined;
  const owner = decl?.is === 'field' ? decl.owner : undefined;
  const teardowns = (field && owner ? owner.functions : []).filter(fn => fn.body !== undefined && lifecycleFor(a, fn)?.phase === 'teardown');
  const emptied = (field ? a.resolver.writesTo(decl!) : []).flatMap(write => (write.kind === 'Assign' && write.op === undefined && isNull(write.value) ? [write] : []));
  const states = [...callbacks].flatMap(fn => stateBranches(a, fn));
  const keeper = namedClassAround(a, open);
  const kept = keeper?.fields.find(each => each.mutable && isPlain(a, each, type));
  return {
    ...(field && { field }),
    emptied,
    teardowns: [...teardowns].sort((x, y) => Number(lifecycleFor(a, y)!.certain) - Number(lifecycleFor(a, x)!.certain)),
    ended: states.filter(s => s.when === 'ended'), failed: states.filter(s => s.when === 'failed'),
    ...(keeper && { keeper: { cls: keeper, ...(kept && { field: kept }) } }),
    ...more,
  };
}

function isNull(expr: Expr): boolean {
  return expr.kind === 'Literal' && expr.value === null;
}

/** A field for one link that can be asked and closed as it stands. */
function isPlain(a: Analysis, field: Field, type: string): boolean {
  return a.resolver.typeOfField(field)?.name === type && !field.getter && !field.delegate;
}

function namedClassAround(a: Analysis, node: AnyNode): Class | undefined {
  for (let cls = a.program.enclosingClass(node); cls; cls = a.program.enclosingClass(cls)) {
    if (cls.name !== undefined && cls.form !== 'interface') return cls;
  }
  return undefined;
}

// ---- The branches of onConnectionStateChange ----------------------------

type When = Ended & { readonly when: 'ended' | 'failed' };

function stateBranches(a: Analysis, fn: Fn): readonly When[] {
  const member = a.resolver.isPlatformCallback(fn)?.member;
  if (member?.name !== 'onConnectionStateChange' || !fn.body) return [];
  const param = (is: 'link' | 'status' | 'state'): Param | undefined => fn.params[member.params?.findIndex(p => p.is === is) ?? -1];
  const link = param('link');
  const [state, status] = [param('state'), param('status')].map(p => p && a.resolver.declFor(p));
  if (!link || !state || !status) return [];
  const found: When[] = [];
  a.eachBelow(fn.body, node => {
    if (node.kind === 'Fn' && !a.isInlined(node)) return 'skip';
    if (node.kind !== 'Branch') return undefined;
    for (const [i, arm] of node.arms.entries()) {
      const when = whenOf(a, node, i, state, status);
      if (when && arm.body.stmts.length > 0 && !(when === 'ended' && isUnder(a, node, fn, status))) found.push({ block: arm.body, link, when });
    }
    return undefined;
  });
  return found;
}

function whenOf(a: Analysis, branch: Branch, at: number, state: Decl, status: Decl): 'ended' | 'failed' | undefined {
  const arm = branch.arms[at]!;
  if (arm.guard) return undefined;
  if (arm.tests.length > 0) return arm.tests.length === 1 && asks(a, branch, at, state) === 0 ? 'ended' : undefined;
  const before = branch.arms.slice(0, at).map((_, i) => ({ state: asks(a, branch, i, state, true), status: asks(a, branch, i, status, true) }));
  // What is left when the state is not "connected", or when the status is not success.
  if (before.length > 0 && before.every(b => b.state === 2)) return 'ended';
  return before.length === 1 && before[0]!.status === 0 && before[0]!.state === undefined ? 'failed' : undefined;
}

/** The constant that an arm compares a parameter with; `partly`: other conditions may have to hold as well. */
function asks(a: Analysis, branch: Branch, at: number, decl: Decl, partly = false): number | undefined {
  const [test] = branch.arms[at]!.tests;
  if (!test || !('when' in test)) return undefined;
  if (branch.subject) return branch.subject.kind === 'Name' && a.resolver.declOf(branch.subject) === decl ? a.resolver.constants.whole(test.when) : undefined;
  return compared(a, test.when, decl, partly);
}

function compared(a: Analysis, test: Expr, decl: Decl, partly: boolean): number | undefined {
  if (test.kind !== 'Binary') return undefined;
  if (test.op === '&&' && partly) return compared(a, test.left, decl, true) ?? compared(a, test.right, decl, true);
  if (test.op !== '==') return undefined;
  const [expr, other] = isDecl(a, test.left, decl) ? [test.left, test.right] : [test.right, test.left];
  return isDecl(a, expr, decl) ? a.resolver.constants.whole(other) : undefined;
}

function isDecl(a: Analysis, expr: Expr, decl: Decl): boolean {
  return expr.kind === 'Name' && a.resolver.declOf(expr) === decl;
}

/** Whether a branch is only reached for some status. */
function isUnder(a: Analysis, branch: AnyNode, fn: Fn, status: Decl): boolean {
  let below: AnyNode = branch;
  for (let node = a.program.parentOf(branch); node && node !== fn; below = node, node = a.program.parentOf(node)) {
    if (node.kind !== 'Branch') continue;
    const at = node.arms.findIndex(arm => arm.body === below);
    if (node.arms.slice(0, at + 1).some((_, i) => asks(a, node as Branch, i, status, true) !== undefined)) return true;
  }
  return false;
}
