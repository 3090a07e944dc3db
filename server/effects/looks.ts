/**
 * What counts as looking at a status: deciding a branch by it, keeping it where somebody reads it, handing it to somebody
 * who may look. Printing is not looking, and neither is handing it to the platform's own empty `super` method, or into a
 * place that is not the status'.
 */
import type { AnyNode, Call, Expr, Fn, Param } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import { fnActs, isSuper } from './acting.js';
import type { Analysis } from './analysis.js';
import { onlyTells } from './outcomes.js';
import { isLogCall } from './roles.js';
import { runOf } from './runs.js';

/** `remark`: it decides a branch, and all arms of the branch only print. */
export type Look = 'look' | 'remark' | 'no';

const best = (looks: readonly Look[]): Look => (looks.includes('look') ? 'look' : looks.includes('remark') ? 'remark' : 'no');

/** Whether a function of the project looks at a parameter: directly, or through what it calls. */
function looksAt(a: Analysis, fn: Fn, param: Param): Look {
  return a.once<Param, Look>('looks-at', param, 'no', () => {
    const decl = a.resolver.declFor(param);
    if (!decl || !fn.body || param.property) return 'look';
    return best(a.resolver.readsOf(decl).map(read => lookOf(a, read)));
  });
}

/** Whether one read of a status, or a value made of it, is more than printing it. */
export function lookOf(a: Analysis, read: Expr): Look {
  return a.once<Expr, Look>('look', read, 'no', () => climb(a, read));
}

function climb(a: Analysis, read: Expr): Look {
  const parent = a.program.parentOf(read);
  if (!parent) return 'look';
  switch (parent.kind) {
    case 'ExprStmt': return 'no';
    case 'Branch': return onlyTells(a, parent) ? 'remark' : 'look';
    case 'Call': return parent.callee === read ? 'look' : inCall(a, parent, read);
    // `status == GATT_SUCCESS` in a log line is printing; as a condition or a value it is looking.
    case 'Template': case 'Binary': case 'Unary': case 'Cast': case 'Is': case 'Choose': return lookOf(a, parent);
    case 'Member': return asReceiver(a, parent, read);
    case 'Let': return ofReads(a, a.resolver.declFor(parent, parent.bindings[0]));
    case 'Assign': return parent.value === read ? assigned(a, parent) : 'no';
    case 'Yield': {
      for (let up = a.program.parentOf(parent); up && up.kind !== 'Fn'; up = a.program.parentOf(up)) if (up.kind === 'Choose') return lookOf(a, up);
      return 'look';
    }
    case 'Return': return returned(a, parent);
    default: return 'look';
  }
}

/** Looked at as much as the name is that it is kept under. */
function ofReads(a: Analysis, decl: Decl | undefined): Look {
  return decl === undefined ? 'look' : best(a.resolver.readsOf(decl).map(read => lookOf(a, read)));
}

function assigned(a: Analysis, assign: AnyNode & { kind: 'Assign' }): Look {
  const { target } = assign;
  const decl = target.kind === 'Name' || target.kind === 'Member' ? a.resolver.declOf(target) : undefined;
  if (decl?.is === 'local') return ofReads(a, decl);
  const hidden = decl?.is === 'field' && decl.node.modifiers.has('private') && !decl.node.setter && !decl.node.delegate;
  return hidden ? ofReads(a, decl) : 'look';
}

/** The value of a lambda that a logger is given, or of one that runs on the spot. */
function returned(a: Analysis, stmt: AnyNode & { kind: 'Return' }): Look {
  const fn = a.program.enclosingFn(stmt);
  const lambda = fn && a.program.parentOf(fn);
  const call = lambda?.kind === 'Lambda' ? a.program.parentOf(lambda) : undefined;
  if (call?.kind !== 'Call' || lambda?.kind !== 'Lambda') return 'look';
  if (isLogCall(a, call)) return 'no';
  const runner = runOf(a, call, lambda)?.runner;
  if (runner?.value === 'dropped') return 'no';
  return runner?.yields === 'lambda' ? lookOf(a, call) : 'look';
}

// ---- Calls --------------------------------------------------------------

/** Functions that make a text or another number of it. common practice, no source */
const MAKES_TEXT = /^(?:format|toString|toHexString|toInt|toLong|toShort|toByte|toUInt|valueOf|and|or|shr|plus|minus|rem)$/;

function asReceiver(a: Analysis, member: Expr & { kind: 'Member' }, read: Expr): Look {
  const call = a.program.parentOf(member);
  if (call?.kind !== 'Call' || call.callee !== member || member.object !== read) return 'look';
  const { fns } = a.resolver.calleeOf(call);
  if (fns.length > 0) return fns.some(fn => fnActs(a, fn)) ? 'look' : lookOf(a, call);
  const given = call.args.at(-1)?.value;
  const runner = given ? runOf(a, call, given)?.runner : undefined;
  if (given && runner?.passes?.[0] === 'receiver') {
    const inside = (a.resolver.functionValue(given) ?? []).map(fn => (fn.params[0] ? ofReads(a, a.resolver.declFor(fn.params[0])) : 'look'));
    return best(runner.yields === 'receiver' || runner.yields === 'receiver-or-null' ? [...inside, lookOf(a, call)] : inside);
  }
  return MAKES_TEXT.test(member.name) ? lookOf(a, call) : 'look';
}

function inCall(a: Analysis, call: Call, read: Expr): Look {
  const callee = a.resolver.calleeOf(call);
  if (callee.fns.length === 0 || !callee.complete) {
    if (isLogCall(a, call) || isSuper(call)) return 'no';
    return MAKES_TEXT.test(a.calleeName(call) ?? '') && callee.members.length > 0 ? lookOf(a, call) : 'look';
  }
  return best(callee.fns.map(fn => inFunction(a, call, fn, read)));
}

function inFunction(a: Analysis, call: Call, fn: Fn, read: Expr): Look {
  const param = fn.params.find(p => a.resolver.argumentFor(call, fn, p) === read);
  if (param && isMisplaced(a, call, fn, param)) return 'no';
  if (!param || !fn.body) return 'look';
  const inside = looksAt(a, fn, param);
  if (inside === 'no') return 'no';
  // A function that only turns the status into something is as much a look as its result is.
  return fn.name !== 'constructor' && !fnActs(a, fn) ? lookOf(a, call) : inside;
}

const STATUS = /status/i;

/** Handed over as something else, while the callee's status is given another value: what tests it there can never fail. */
function isMisplaced(a: Analysis, call: Call, fn: Fn, param: Param): boolean {
  if (STATUS.test(param.name)) return false;
  const meant = fn.params.find(p => STATUS.test(p.name));
  const other = meant && a.resolver.argumentFor(call, fn, meant);
  return other !== undefined && typeof a.resolver.constants.whole(other) === 'number';
}
