/**
 * Which UUID stands at an offset: of a source, the innermost expression there that means one, or the declared name of a
 * constant that holds one; of a device profile, the attribute's own. What an expression means is `resolve/`'s affair.
 */
import type { AnyNode, Expr, File, Span } from '../ir/ir.js';
import { children } from '../ir/walk.js';
import type { Profile } from '../profile/types.js';
import type { Constants } from '../resolve/api.js';
import type { UuidPlace } from './workbench.js';

export function uuidInSource(file: File, offset: number, constants: Pick<Constants, 'uuid'>): UuidPlace | undefined {
  const nodes = nodesAt(file, offset);
  for (const node of nodes) {
    const declared = declaredAt(node, offset);
    if (declared) return placed(declared.at, declared.value, constants);
    if (!isExpr(node)) return undefined;
    const found = placed(node.span, node, constants);
    if (found) return found;
    // What a pointer inside a function literal points at is never the call that the literal is given to.
    if (node.kind === 'Lambda' || node.kind === 'ObjectExpr') return undefined;
  }
  return undefined;
}

export function uuidInProfile(profile: Profile, offset: number): UuidPlace | undefined {
  const characteristics = profile.services.flatMap((service) => service.characteristics);
  const descriptors = characteristics.flatMap((characteristic) => characteristic.descriptors ?? []);
  const uuid = [...profile.services, ...characteristics, ...descriptors].map((attribute) => attribute.uuid).find((it) => it && holds(it.at, offset));
  return uuid && { at: uuid.at, uuid: uuid.value };
}

function placed(at: Span, expr: Expr, constants: Pick<Constants, 'uuid'>): UuidPlace | undefined {
  const uuid = constants.uuid(expr);
  return uuid === undefined ? undefined : { at, uuid };
}

/** The name of a constant where it is declared, and its value. */
function declaredAt(node: AnyNode, offset: number): { at: Span; value: Expr } | undefined {
  if (node.kind === 'Field' && node.initial && !node.mutable && holds(node.nameSpan, offset)) return { at: node.nameSpan, value: node.initial };
  if (node.kind !== 'Let' || node.mutable || !node.value) return undefined;
  const binding = node.bindings.find(({ path, span }) => path.length === 0 && holds(span, offset));
  return binding && { at: binding.span, value: node.value };
}

/** The nodes around an offset, the innermost first. */
function nodesAt(file: File, offset: number): AnyNode[] {
  const path: AnyNode[] = [];
  let next: AnyNode | undefined = file;
  while (next) {
    path.unshift(next);
    next = children(next).find(({ span }) => holds(span, offset));
  }
  return path;
}

function holds(span: Span, offset: number): boolean {
  return span.start <= offset && offset < span.end;
}

const STATEMENTS: ReadonlySet<AnyNode['kind']> = new Set(['File', 'Block', 'Let', 'ExprStmt', 'Yield', 'Branch', 'Loop', 'Try', 'Return', 'Throw', 'Jump', 'LocalDecl']);
const DECLARATIONS: ReadonlySet<AnyNode['kind']> = new Set(['Import', 'Class', 'Fn', 'Field', 'Param', 'TypeAlias', 'EnumEntry', 'Annotation']);

function isExpr(node: AnyNode): node is Expr {
  return !STATEMENTS.has(node.kind) && !DECLARATIONS.has(node.kind);
}
