/**
 * State with which code guards the slot of a link by itself: a flag, a pending entry, a state, a counter that is set when
 * an operation is started and asked before the next one. What has to hold before the next one may start is "free"; a flag
 * that only says whether the link is there is none.
 *
 * A guard counts only if both is seen: somewhere near an operation the state is set so that the guard fails, and
 * elsewhere it is set so that it holds again.
 */
import type { AnyNode, Assign, Call, Expr, Fn } from '../ir/ir.js';
import type { Guard } from '../flow/graph.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { valueOf, type Value } from './conditions.js';
import { roleOf } from './roles.js';

/** What a guard asks of a piece of state. */
interface Asked {
  readonly decl: Decl;
  readonly wants: Wanted;
}

type Wanted =
  | { readonly is: 'value'; readonly value: Value; readonly equal: boolean }
  | { readonly is: 'empty' };

/** Whether a guard holds only while nothing is in flight, as far as the project's own book-keeping knows. */
export function saysFree(a: Analysis, guard: Guard): boolean {
  const test = guard.is === 'condition' ? guard.test : guard.is === 'null' ? guard.value : guard.is === 'match' ? guard.subject : undefined;
  if (!test) return false;
  const key = `free ${guard.is} ${'holds' in guard ? guard.holds : ''} ${guard.is === 'match' && 'when' in guard.test ? guard.test.when.span.start : ''}`;
  return a.once<Expr, boolean>(key, test, false, () => askedBy(a, guard).some(asked => isBookKept(a, asked)));
}

// ---- What is asked ------------------------------------------------------

function askedBy(a: Analysis, guard: Guard): readonly Asked[] {
  switch (guard.is) {
    case 'condition': return ofTest(a, guard.test, guard.holds);
    case 'null': return guard.holds ? ofState(a, guard.value, { is: 'value', value: null, equal: true }) : [];
    case 'match': {
      const value = 'when' in guard.test ? valueOf(a, guard.test.when) : undefined;
      return value === undefined ? [] : ofState(a, guard.subject, { is: 'value', value, equal: guard.holds });
    }
    default: return [];
  }
}

function ofTest(a: Analysis, test: Expr, holds: boolean, depth = 0): readonly Asked[] {
  if (depth > 3) return [];
  if (test.kind === 'Unary' && test.op === '!') return ofTest(a, test.value, !holds, depth);
  if (test.kind === 'Binary' && (test.op === '&&' || test.op === '||')) {
    // Both sides are known only where the connective is settled: `a && b` holds, `a || b` does not.
    return (test.op === '&&') === holds ? [...ofTest(a, test.left, holds, depth), ...ofTest(a, test.right, holds, depth)] : [];
  }
  if (test.kind === 'Binary' && (test.op === '==' || test.op === '!=')) return ofComparison(a, test, (test.op === '==') === holds, depth);
  if (test.kind === 'Call') return ofCall(a, test, holds, depth);
  return ofState(a, test, { is: 'value', value: true, equal: holds }, depth);
}

function ofComparison(a: Analysis, test: Expr & { kind: 'Binary' }, equal: boolean, depth: number): readonly Asked[] {
  const value = valueOf(a, test.right);
  const counted = sizeOf(test.left);
  // `queue.size == 1`: what was just put in is alone there.
  if (counted && (value === 0 || value === 1)) return equal ? ofState(a, counted, { is: 'empty' }) : [];
  if (value === true || value === false) return ofTest(a, test.left, equal === value, depth + 1);
  // That something is there says nothing of the slot; that nothing is pending does.
  return value === undefined || (value === null && !equal) ? [] : ofState(a, test.left, { is: 'value', value, equal });
}

function ofCall(a: Analysis, call: Call, holds: boolean, depth: number): readonly Asked[] {
  const { callee } = call;
  const [fn, ...others] = a.resolver.calleeOf(call).fns;
  if (fn?.body && others.length === 0) return ofAnswer(a, fn, holds, depth);
  if (callee.kind !== 'Member') return [];
  const first = call.args[0] && valueOf(a, call.args[0].value);
  switch (callee.name) {
    case 'isEmpty': return holds ? ofState(a, callee.object, { is: 'empty' }) : [];
    case 'isNotEmpty': return holds ? [] : ofState(a, callee.object, { is: 'empty' });
    case 'get': return ofState(a, callee.object, { is: 'value', value: true, equal: holds });
    // Asking and setting in one: who gets the old value may go on.
    case 'compareAndSet': case 'weakCompareAndSet': return holds && first !== undefined ? ofState(a, callee.object, { is: 'value', value: first, equal: true }) : [];
    case 'getAndSet': return first === true || first === false ? ofState(a, callee.object, { is: 'value', value: true, equal: holds }) : [];
    default: return [];
  }
}

/** `isBusy()`, and a property that is computed: what its one answer asks. */
function ofAnswer(a: Analysis, fn: Fn, holds: boolean, depth: number): readonly Asked[] {
  const only = fn.body?.stmts.length === 1 ? fn.body.stmts[0] : undefined;
  return only?.kind === 'Return' && only.value ? ofTest(a, only.value, holds, depth + 1) : [];
}

function sizeOf(expr: Expr): Expr | undefined {
  if (expr.kind === 'Member' && (expr.name === 'size' || expr.name === 'length')) return expr.object;
  return expr.kind === 'Call' && expr.callee.kind === 'Member' && (expr.callee.name === 'size' || expr.callee.name === 'count') ? expr.callee.object : undefined;
}

const HOLDERS = new Set(['value', 'current']);

/** State that outlives the function: a field, or a variable outside of it; a holder's `.value` and `.current` is the holder's. */
function ofState(a: Analysis, expr: Expr, wants: Wanted, depth = 0): readonly Asked[] {
  const decl = expr.kind === 'Name' || expr.kind === 'Member' ? a.resolver.declOf(expr) : undefined;
  if (decl?.is === 'field' && decl.node.getter && wants.is === 'value' && typeof wants.value === 'boolean') {
    return depth < 3 ? ofAnswer(a, decl.node.getter, wants.equal === wants.value, depth) : [];
  }
  if (decl?.is === 'field' || (decl?.is === 'local' && decl.node.kind === 'Let')) return isLinkObject(a, expr) ? [] : [{ decl, wants }];
  if (expr.kind === 'Member' && HOLDERS.has(expr.name)) return ofState(a, expr.object, wants, depth);
  return expr.kind === 'Call' && expr.callee.kind === 'Member' && expr.callee.name === 'get' ? ofState(a, expr.callee.object, wants, depth) : [];
}

/** A client, a device or an attribute: it is there or not, and no book-keeping. */
function isLinkObject(a: Analysis, expr: Expr): boolean {
  return /^Bluetooth/.test(a.resolver.typeOf(expr)?.name ?? '');
}

// ---- Whether it is kept -------------------------------------------------

function isBookKept(a: Analysis, { decl, wants }: Asked): boolean {
  const changes = changesOf(a, decl);
  const blocks = changes.filter(change => blocksWhat(change, wants) && isNearOperation(a, change.at));
  return blocks.length > 0 && changes.some(change => !blocks.includes(change) && frees(change, wants));
}

type Change = { readonly at: Expr } & (
  | { readonly does: 'sets'; readonly value: Value | undefined }
  | { readonly does: 'puts' | 'takes' | 'counts' }
);

function blocksWhat(change: Change, wants: Wanted): boolean {
  if (wants.is === 'empty') return change.does === 'puts';
  if (change.does === 'counts') return typeof wants.value === 'number';
  if (change.does !== 'sets') return false;
  // What is not known to be null is an entry: it fails a test for null, and nothing else.
  if (change.value === undefined) return wants.value === null && wants.equal;
  return (change.value === wants.value) !== wants.equal;
}

function frees(change: Change, wants: Wanted): boolean {
  if (wants.is === 'empty') return change.does === 'takes';
  return change.does === 'counts' || (change.does === 'sets' && !blocksWhat(change, wants));
}

const PUTS = /^(?:add|addLast|addFirst|offer|offerLast|put|push|plusAssign|send|trySend)$/;
const TAKES = /^(?:poll|pollFirst|remove|removeFirst|removeFirstOrNull|removeAt|pop|take|shift|clear|splice)$/;
const SETS = /^(?:set|lazySet|postValue|setValue|emit|tryEmit|getAndSet|next)$/;
const COUNTS = /^(?:incrementAndGet|getAndIncrement|decrementAndGet|getAndDecrement)$/;

function changesOf(a: Analysis, decl: Decl): readonly Change[] {
  return a.once<Decl, readonly Change[]>('changes', decl, [], () => {
    const found: Change[] = [];
    for (const write of a.resolver.writesTo(decl)) if (write.kind === 'Assign') found.push(ofWrite(a, write));
    for (const read of a.resolver.readsOf(decl)) {
      const change = throughRead(a, read);
      if (change) found.push(change);
    }
    const setter = stateSetter(a, decl);
    for (const read of setter ? a.resolver.readsOf(setter) : []) {
      const call = a.program.parentOf(read);
      if (call?.kind === 'Call' && call.callee === read && call.args[0]) found.push({ at: call, does: 'sets', value: valueOf(a, call.args[0].value) });
    }
    return found;
  });
}

function ofWrite(a: Analysis, write: Assign): Change {
  if (write.op === '+' && a.resolver.typeOf(write.target)?.name !== 'number') return { at: write, does: 'puts' };
  return write.op === undefined ? { at: write, does: 'sets', value: valueOf(a, write.value) } : { at: write, does: 'counts' };
}

function throughRead(a: Analysis, read: Expr): Change | undefined {
  const member = a.program.parentOf(read);
  if (member?.kind !== 'Member' || member.object !== read) return undefined;
  const parent = a.program.parentOf(member);
  if (parent?.kind === 'Assign' && parent.target === member && HOLDERS.has(member.name)) return ofWrite(a, parent);
  if (parent?.kind !== 'Call' || parent.callee !== member) return undefined;
  if (PUTS.test(member.name)) return { at: parent, does: 'puts' };
  if (TAKES.test(member.name)) return { at: parent, does: 'takes' };
  if (COUNTS.test(member.name)) return { at: parent, does: 'counts' };
  const set = SETS.test(member.name) ? parent.args[0] : /[cC]ompareAndSet$/.test(member.name) ? parent.args[1] : undefined;
  return set && { at: parent, does: 'sets', value: valueOf(a, set.value) };
}

/** `const [busy, setBusy] = useState(false)`. */
function stateSetter(a: Analysis, decl: Decl): Decl | undefined {
  if (decl.is !== 'local' || decl.node.kind !== 'Let' || decl.binding?.path[0] !== 0) return undefined;
  const second = decl.node.bindings.find(binding => binding.path[0] === 1);
  return second && a.resolver.declFor(decl.node, second);
}

/** The state is changed in a function that starts operations, itself or in what it calls. */
function isNearOperation(a: Analysis, at: AnyNode): boolean {
  const home = a.home(at);
  return home?.kind === 'Fn' && leadsToOperation(a, home);
}

/** Whether a function starts an operation, at once or in what it sets going. */
export function leadsToOperation(a: Analysis, fn: Fn): boolean {
  return a.once<Fn, boolean>('leads-to-operation', fn, false, () => {
    let found = false;
    if (!fn.body) return false;
    a.eachBelow(fn.body, node => {
      if (found) return 'skip';
      if (node.kind !== 'Call') return undefined;
      const role = roleOf(a, node);
      if (role?.does.has('starts-operation') && role.slot !== 'none') found = true;
      else if (a.resolver.calleeOf(node).fns.some(callee => callee !== fn && leadsToOperation(a, callee))) found = true;
      return undefined;
    });
    return found;
  });
}
