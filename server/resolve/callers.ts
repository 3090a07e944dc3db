/**
 * Who calls a function, and who takes it as a value.
 *
 * A function is called under its own name, and under the names of what carries it: a variable, a property, a parameter that
 * it is passed for. Candidates are found by name; each counts only if its callee resolves to the function.
 */
import type { Call, Expr, Fn } from '../ir/ir.js';
import type { Decl, Use } from './api.js';
import { paramOf } from './arguments.js';
import type { Core } from './core.js';
import { usesOf } from './uses.js';

export function callersOf(core: Core, fn: Fn): readonly Call[] {
  const calls = new Set<Call>();
  for (const name of namesOf(core, fn)) {
    for (const call of core.program.callsNamed(name)) if (core.calleeOf(call).fns.includes(fn)) calls.add(call);
  }
  const lambda = core.program.parentOf(fn);
  const spot = lambda?.kind === 'Lambda' ? core.program.parentOf(lambda) : undefined;
  if (spot?.kind === 'Call' && spot.callee === lambda) calls.add(spot);
  return [...calls];
}

/** The names under which a function may be called: its own, its class's for a constructor, those of what carries it. */
function namesOf(core: Core, fn: Fn): ReadonlySet<string> {
  const parent = core.program.parentOf(fn);
  const names = new Set<string>();
  const add = (name: string): void => {
    names.add(name);
    for (const other of core.program.otherNames(name)) names.add(other);
  };
  if (fn.name === 'constructor' && parent?.kind === 'Class') {
    for (const name of ['super', 'this', ...(parent.name === undefined ? [] : [parent.name])]) add(name);
    return names;
  }
  if (parent?.kind === 'Field') return names;
  if (fn.name !== undefined) add(fn.name);
  if (fn.name === 'invoke' && parent?.kind === 'Class' && parent.name !== undefined) add(parent.name);
  const { carriers } = carried(core, fn);
  for (const carrier of carriers) add(carrier.name);
  if (carriers.size > 0) names.add('invoke');
  return names;
}

/** So many places are followed at most. */
const PLACES = 64;

interface Carried {
  /** Declarations that may hold the function. */
  readonly carriers: ReadonlySet<Decl>;
  /** It also gets somewhere that cannot be followed. */
  readonly escapes: boolean;
}

/** From where the function is written or referred to, through variables and arguments. */
function carried(core: Core, fn: Fn): Carried {
  const carriers = new Set<Decl>();
  const places = placesOf(core, fn);
  let escapes = false;
  let next = 0;
  for (; next < places.length && next < PLACES; next++) {
    const held = heldBy(core, places[next]!);
    if (held.length === 0 && !isOnlyCompared(core, places[next]!)) escapes = true;
    for (const decl of held) {
      if (carriers.has(decl)) continue;
      carriers.add(decl);
      places.push(...core.readsOf(decl).filter((read) => !isCalled(core, read)));
    }
  }
  return { carriers, escapes: escapes || next < places.length };
}

/** Whether somebody may call the function whom `callersOf` does not find. */
export function escapes(core: Core, fn: Fn): boolean {
  return carried(core, fn).escapes;
}

function isOnlyCompared(core: Core, expr: Expr): boolean {
  const parent = core.program.parentOf(expr);
  switch (parent?.kind) {
    case 'Binary': return parent.op === '==' || parent.op === '!=';
    case 'Unary': return parent.op === '!';
    case 'Branch':
    case 'ExprStmt':
      return true;
    default: return false;
  }
}

function placesOf(core: Core, fn: Fn): Expr[] {
  const parent = core.program.parentOf(fn);
  if (parent?.kind === 'Lambda') return [parent];
  return fn.name === undefined || fn.name === 'constructor' || fn.name === 'invoke' ? [] : usesOf(core, core.fnDecl(fn)).filter((use) => !isCalled(core, use));
}

/** What the value of an expression is put into. */
function heldBy(core: Core, expr: Expr): readonly Decl[] {
  const parent = core.program.parentOf(expr);
  switch (parent?.kind) {
    case 'Let': {
      const decl = parent.bindings.length === 1 && parent.bindings[0]!.path.length === 0 ? core.declFor(parent, parent.bindings[0]) : undefined;
      return decl === undefined ? [] : [decl];
    }
    case 'Field': return [core.fieldDecl(parent)];
    case 'Assign': {
      const { target, value } = parent;
      const decl = value === expr && (target.kind === 'Name' || target.kind === 'Member') ? core.referenceOf(target)?.decl : undefined;
      return decl === undefined ? [] : [decl];
    }
    case 'Call': return parent.callee === expr ? [] : passedFor(core, parent, expr);
    case 'Member': return parent.object === expr && parent.name === 'bind' ? heldByCall(core, parent) : [];
    case 'Cast':
    case 'Unary':
    case 'Binary':
      return heldBy(core, parent);
    case 'Yield': {
      const choose = chooseAround(core, parent);
      return choose === undefined ? [] : heldBy(core, choose);
    }
    default: return [];
  }
}

function heldByCall(core: Core, callee: Expr): readonly Decl[] {
  const call = core.program.parentOf(callee);
  return call?.kind === 'Call' && call.callee === callee ? heldBy(core, call) : [];
}

function chooseAround(core: Core, at: Parameters<Core['program']['parentOf']>[0]): Expr | undefined {
  for (let node = core.program.parentOf(at); node !== undefined && node.kind !== 'Fn'; node = core.program.parentOf(node)) {
    if (node.kind === 'Choose') return node;
  }
  return undefined;
}

/** The parameters that an argument is passed for, and the properties these declare; a call that hands it back holds what it is put into. */
function passedFor(core: Core, call: Call, expr: Expr): readonly Decl[] {
  const argument = call.args.find((each) => each.value === expr);
  if (argument === undefined) return [];
  const passed = core.calleeOf(call).fns.flatMap((fn) => {
    const param = paramOf(call, fn.params, argument);
    if (param === undefined) return [];
    const cls = param.property === true ? core.program.ownerOf(fn) : undefined;
    const field = cls?.fields.find((each) => each.fromParam === true && each.name === param.name);
    return [core.paramDecl(param, fn), ...(field === undefined ? [] : [core.fieldDecl(field)])];
  });
  return passed.length === 0 && core.handsBack(call) ? heldBy(core, call) : passed;
}

function isCalled(core: Core, use: Expr): boolean {
  const parent = core.program.parentOf(use);
  if (parent?.kind === 'Call') return parent.callee === use;
  if (parent?.kind !== 'Member' || parent.object !== use || parent.name !== 'invoke') return false;
  const call = core.program.parentOf(parent);
  return call?.kind === 'Call' && call.callee === parent;
}

/** Places that take the function as a value: by its own name, or by that of the variable or property that a function expression is put into. */
export function referencesTo(core: Core, fn: Fn): readonly Use[] {
  if (fn.name === 'constructor') return [];
  const parent = core.program.parentOf(fn);
  const decl = fn.name !== undefined ? core.fnDecl(fn) : parent?.kind === 'Lambda' ? heldBy(core, parent).find((each) => each.is !== 'param') : undefined;
  return decl === undefined ? [] : usesOf(core, decl).filter((use) => !isCalled(core, use) && !isAssigned(core, use));
}

function isAssigned(core: Core, use: Expr): boolean {
  const parent = core.program.parentOf(use);
  return parent?.kind === 'Assign' && parent.target === use;
}
