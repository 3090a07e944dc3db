/** Which link an operation runs on, as far as it can be told apart from another. */
import type { AnyNode, Call, Expr } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';

export interface LinkRef {
  /** What the operation is called on, followed to where it comes from. */
  readonly root: Decl | undefined;
  readonly expr: Expr | undefined;
  /** The type of the root: a device or client stands for a link of its own, a characteristic may share one. */
  readonly type: string | undefined;
  /** Whether each round of a loop, or each call of a lambda, has a link of its own. */
  madeWithin(loop: AnyNode): boolean;
}

/** Types one object of which stands for one link. */
const LINK_TYPES = /^(?:BluetoothGatt|BluetoothDevice|BluetoothRemoteGATTServer|BluetoothGattServer)$/;
/** Types of which one link has many. */
const PART_TYPES = /^(?:BluetoothGatt(?:Characteristic|Descriptor|Service)|BluetoothRemoteGATT(?:Characteristic|Descriptor|Service)|string|number|UUID|bytes)$/;

export function linkOf(a: Analysis, op: Call): LinkRef {
  return a.once<Call, LinkRef>('link-of', op, { root: undefined, expr: undefined, type: undefined, madeWithin: () => false }, () => {
    const receiver = a.resolver.calleeOf(op).receiver;
    const expr = receiver?.expr;
    const root = expr && rootOf(a, expr);
    const type = root && a.resolver.typeOfDecl(root)?.name;
    const madeWithin = (loop: AnyNode): boolean => {
      if (!root || root.is === 'platform' || root.is === 'field') return false;
      const inside = root.node.span.start >= loop.span.start && root.node.span.end <= loop.span.end;
      return inside && type !== undefined && !PART_TYPES.test(type);
    };
    return { root, expr, type, madeWithin };
  });
}

/** Follows locals that only name something else: `val g = gatt ?: return`. */
function rootOf(a: Analysis, expr: Expr, depth = 0): Decl | undefined {
  if (depth > 8) return undefined;
  switch (expr.kind) {
    case 'Name': case 'Member': {
      const decl = a.resolver.declOf(expr);
      if (decl?.is === 'local' && decl.node.kind === 'Let' && decl.node.value && decl.binding?.path.length === 0) {
        const writes = a.resolver.writesTo(decl);
        const through = writes.length === 1 ? rootOf(a, decl.node.value, depth + 1) : undefined;
        return through ?? decl;
      }
      if (decl) return decl;
      return expr.kind === 'Member' ? rootOf(a, expr.object, depth + 1) : undefined;
    }
    case 'Binary': return expr.op === '??' ? rootOf(a, expr.left, depth + 1) : undefined;
    case 'Unary': case 'Cast': case 'Await': return rootOf(a, expr.value, depth + 1);
    case 'Call': return expr.callee.kind === 'Member' ? rootOf(a, expr.callee.object, depth + 1) : undefined;
    case 'Index': return rootOf(a, expr.object, depth + 1);
    default: return undefined;
  }
}

/** False only when both are known to be different links. */
export function mayShareLink(a: Analysis, x: LinkRef, y: LinkRef): boolean {
  if (!x.root || !y.root || x.root === y.root) return true;
  if (x.expr && y.expr && a.resolver.sameObject(x.expr, y.expr) === false && isLink(x) && isLink(y) && !(x.root.is === 'param' || y.root.is === 'param')) return false;
  // Two fields of the type of a link are two links; a parameter may be either.
  return !(isLink(x) && isLink(y) && x.root.is === 'field' && y.root.is === 'field');
}

const isLink = (ref: LinkRef): boolean => ref.type !== undefined && LINK_TYPES.test(ref.type);
