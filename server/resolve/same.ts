/**
 * Whether two expressions denote one object.
 *
 * Both are followed back through variables that are assigned once, casts and null checks. The same declaration read on the
 * same object is the same object, as long as it is asked about one moment; two constructions never are. Anything else,
 * such as a field and a callback's parameter, may be the same: that is not known here.
 */
import type { Expr } from '../ir/ir.js';
import type { Decl } from './api.js';
import type { Core } from './core.js';

const DEPTH = 16;

export function sameObject(core: Core, a: Expr, b: Expr): boolean | undefined {
  const [left, right] = [originOf(core, a), originOf(core, b)];
  if (left === undefined || right === undefined) return undefined;
  if (equal(left, right)) return true;
  return isMade(left) && isMade(right) ? false : undefined;
}

/** Where an object comes from: a place that makes it, or a declaration read on some object. */
interface Origin {
  readonly made?: Expr;
  readonly decl?: Decl | 'this';
  readonly on?: Origin;
}

function equal(a: Origin, b: Origin): boolean {
  if (a.made !== b.made || a.decl !== b.decl) return false;
  if (a.on === undefined || b.on === undefined) return a.on === b.on;
  return equal(a.on, b.on);
}

/** Made on the spot, and by a call that makes a new object each time. */
function isMade(origin: Origin): boolean {
  return origin.made !== undefined;
}

function originOf(core: Core, expr: Expr, depth = 0): Origin | undefined {
  if (depth > DEPTH) return undefined;
  switch (expr.kind) {
    case 'Cast': return originOf(core, expr.value, depth + 1);
    case 'Unary': return expr.op === '!!' ? originOf(core, expr.value, depth + 1) : undefined;
    case 'Await': return originOf(core, expr.value, depth + 1);
    case 'This': return { decl: 'this' };
    case 'ObjectExpr':
    case 'ListExpr':
      return { made: expr };
    case 'Call': return makesNew(core, expr) ? { made: expr } : undefined;
    case 'Binary': return expr.op === '??' && expr.right.kind === 'Leave' ? originOf(core, expr.left, depth + 1) : undefined;
    case 'Name':
    case 'Member': {
      const decl = core.referenceOf(expr)?.decl;
      return decl && originOfDecl(core, expr, decl, depth);
    }
    default: return undefined;
  }
}

function originOfDecl(core: Core, expr: Expr & { readonly kind: 'Name' | 'Member' }, decl: Decl, depth: number): Origin | undefined {
  if (decl.is === 'local') {
    const value = decl.node.kind === 'Let' && decl.binding?.path.length === 0 && core.writesTo(decl).length === 1 ? decl.node.value : undefined;
    return (value && originOf(core, value, depth + 1)) ?? { decl };
  }
  const isMember = (decl.is === 'field' && decl.owner !== undefined && !decl.node.static && decl.owner.form !== 'object') || decl.is === 'platform';
  if (!isMember) return { decl };
  const on = expr.kind === 'Member' ? originOf(core, expr.object, depth + 1) : implicitOwner(core, expr, decl);
  return on && { decl, on };
}

/** A bare property is one of `this`; one of another receiver is known by what that receiver is. */
function implicitOwner(core: Core, expr: Expr, decl: Decl): Origin | undefined {
  if (decl.is === 'platform') return undefined;
  const cls = core.program.enclosingClass(expr);
  return cls !== undefined && decl.is === 'field' && (decl.owner === cls || core.superclassesOf(cls).includes(decl.owner!)) ? { decl: 'this' } : undefined;
}

/** Constructions, and calls that open a link: each yields an object of its own. */
function makesNew(core: Core, call: Expr & { readonly kind: 'Call' }): boolean {
  const callee = core.calleeOf(call);
  return callee.constructs !== undefined || callee.members.some((member) => member.does?.includes('opens-link') && member.answer === 'object');
}
