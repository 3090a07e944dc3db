/**
 * The elements of a collection that is the same whenever the program runs: literals, `listOf` and the like, values of
 * constant maps and objects, all entries of an enum, and what is spread or added together from such.
 */
import type { Call, EnumEntry, Expr } from '../../ir/ir.js';
import type { Core } from '../core.js';

const DEPTH = 12;

/** Functions that list their arguments. */
const LISTING = new Set([
  'listOf', 'mutableListOf', 'arrayListOf', 'arrayOf', 'setOf', 'mutableSetOf', 'hashSetOf', 'linkedSetOf', 'sequenceOf', 'listOfNotNull', 'flowOf', 'of',
  'mapOf', 'mutableMapOf', 'hashMapOf', 'linkedMapOf',
]);
/** Functions that keep the elements. */
const KEEPING = new Set([
  'toList', 'toMutableList', 'toSet', 'toMutableSet', 'toTypedArray', 'asSequence', 'asList', 'filterNotNull', 'reversed', 'asReversed',
  'toReversed', 'sorted', 'distinct', 'toMap', 'toMutableMap', 'slice', 'values', 'iterator', 'withIndex', 'freeze', 'unmodifiableList', 'from',
]);

export function itemsOf(core: Core, expr: Expr, depth = 0): readonly Expr[] | undefined {
  if (depth > DEPTH) return undefined;
  const of = (each: Expr): readonly Expr[] | undefined => itemsOf(core, each, depth + 1);
  switch (expr.kind) {
    case 'ListExpr': return spread(expr.items.map(asArgument), of);
    case 'Cast': return of(expr.value);
    case 'Unary': return expr.op === '!!' ? of(expr.value) : undefined;
    case 'Binary': {
      if (expr.op !== '+') return undefined;
      const left = of(expr.left);
      const right = core.typeOf(expr.right);
      const added = right !== undefined && ['list', 'set', 'map'].includes(right.name) ? of(expr.right) : right && [expr.right];
      return left && added && [...left, ...added];
    }
    case 'Name': return held(core, expr, of);
    case 'Member': return expr.name === 'values' || expr.name === 'entries' ? of(expr.object) ?? held(core, expr, of) : held(core, expr, of);
    case 'Call': return called(core, expr, of);
    default: return undefined;
  }
}

type Ask = (expr: Expr) => readonly Expr[] | undefined;

function asArgument(item: Expr): { readonly value: Expr; readonly spread?: boolean } {
  return item.kind === 'Unary' && item.op === '...' ? { value: item.value, spread: true } : { value: item };
}

function spread(args: readonly { readonly value: Expr; readonly spread?: boolean }[], of: Ask): readonly Expr[] | undefined {
  const items: Expr[] = [];
  for (const argument of args) {
    const more = argument.spread === true ? of(argument.value) : [argument.value];
    if (more === undefined) return undefined;
    items.push(...more);
  }
  return items;
}

/** A constant that nobody reassigns or adds to. */
function held(core: Core, expr: Expr & { readonly kind: 'Name' | 'Member' }, of: Ask): readonly Expr[] | undefined {
  const decl = core.referenceOf(expr)?.decl;
  if (decl === undefined || (decl.is !== 'local' && decl.is !== 'field')) return undefined;
  const values = core.valuesOf(decl);
  const only = values?.length === 1 ? values[0] : decl.is === 'field' ? lazyValue(decl.node.getter) : undefined;
  return only === undefined || core.readsOf(decl).some((read) => isChanged(core, read)) ? undefined : of(only);
}

function lazyValue(getter: { readonly body?: { readonly stmts: readonly { readonly kind: string }[] } } | undefined): Expr | undefined {
  const [only] = getter?.body?.stmts ?? [];
  return getter?.body?.stmts.length === 1 && only?.kind === 'Return' ? (only as { readonly value?: Expr }).value : undefined;
}

const CHANGES = new Set([
  'add', 'addAll', 'addFirst', 'addLast', 'push', 'unshift', 'offer', 'put', 'putAll', 'set', 'remove', 'removeAt', 'removeAll', 'clear',
  'delete', 'pop', 'shift', 'splice',
]);

/** `list.add(x)`, `list += x`, `list[0] = x`. */
function isChanged(core: Core, read: Expr): boolean {
  const parent = core.program.parentOf(read);
  if (parent?.kind === 'Member' && parent.object === read && CHANGES.has(parent.name)) return core.program.parentOf(parent)?.kind === 'Call';
  if (parent?.kind === 'Assign') return parent.target === read;
  const around = parent?.kind === 'Index' && parent.object === read ? core.program.parentOf(parent) : undefined;
  return around?.kind === 'Assign' && around.target === parent;
}

function called(core: Core, call: Call, of: Ask): readonly Expr[] | undefined {
  const callee = core.calleeOf(call);
  if (callee.fns.length > 0 || callee.name === undefined) return undefined;
  const on = call.callee.kind === 'Member' ? call.callee.object : undefined;
  const first = call.args[0]?.value;
  const isMap = callee.name.endsWith('apOf');
  if (LISTING.has(callee.name) && (on === undefined || callee.name === 'of')) {
    const items = spread(call.args, of);
    return isMap ? items?.map(valueOfPair) : items;
  }
  if (callee.name === 'values' && on?.kind === 'Name' && on.name === 'Object' && first !== undefined) return objectValues(core, first);
  if (callee.name === 'concat' && on !== undefined) {
    const added = call.args.map(({ value }) => ({ value, spread: core.typeOf(value)?.name === 'list' }));
    return spread([{ value: on, spread: true }, ...added], of);
  }
  if (call.construct === true && (callee.name === 'Set' || callee.name === 'Array') && first !== undefined) return of(first);
  if (call.construct === true && callee.name === 'Map' && first !== undefined) return of(first)?.map(valueOfPair);
  if (!KEEPING.has(callee.name)) return undefined;
  if (on?.kind === 'Name' && (on.name === 'Object' || on.name === 'Array' || on.name === 'Collections') && first !== undefined) return of(first);
  return on && call.args.length === 0 ? of(on) : undefined;
}

/** `a to b`, `Pair(a, b)`, `[a, b]`: what a map holds under the key. */
function valueOfPair(pair: Expr): Expr {
  if (pair.kind === 'Call' && pair.callee.kind === 'Member' && pair.callee.name === 'to' && pair.args[0] !== undefined) return pair.args[0].value;
  if (pair.kind === 'Call' && pair.callee.kind === 'Name' && pair.callee.name === 'Pair' && pair.args[1] !== undefined) return pair.args[1].value;
  if (pair.kind === 'ListExpr' && pair.items.length === 2) return pair.items[1]!;
  return pair;
}

/** The values of an object literal that a constant holds. */
function objectValues(core: Core, expr: Expr): readonly Expr[] | undefined {
  const cls = core.typeOf(expr)?.class;
  if (cls === undefined || cls.form !== 'anonymous' || cls.spreads.length > 0 || cls.functions.length > 0) return undefined;
  const values = cls.fields.map((field) => field.initial);
  return values.every((value) => value !== undefined) ? (values as Expr[]) : undefined;
}

/** `Mode.entries`, `Mode.values()`, `enumValues<Mode>()`, `EnumSet.allOf(Mode::class.java)`. */
export function entriesOf(core: Core, expr: Expr, depth = 0): readonly EnumEntry[] | undefined {
  if (depth > DEPTH) return undefined;
  if (expr.kind === 'Call') {
    const { callee } = expr;
    const [typeArg] = expr.typeArgs;
    const first = expr.args[0]?.value;
    if (callee.kind === 'Name') {
      const isListing = callee.name === 'enumValues' || callee.name === 'enumEntries';
      return isListing && typeArg !== undefined ? enumEntries(core.typeOfRef(typeArg, expr)?.class) : undefined;
    }
    if (callee.kind !== 'Member') return undefined;
    if (callee.name === 'values' && first === undefined) return enumOf(core, callee.object) ?? entriesOf(core, callee.object, depth + 1);
    if (callee.name === 'values' && callee.object.kind === 'Name' && callee.object.name === 'Object' && first !== undefined) return enumOf(core, first);
    return KEEPING.has(callee.name) && expr.args.length === 0 ? entriesOf(core, callee.object, depth + 1) : undefined;
  }
  if (expr.kind === 'Member' && expr.name === 'entries') return enumOf(core, expr.object);
  if (expr.kind !== 'Name' && expr.kind !== 'Member') return undefined;
  const decl = core.referenceOf(expr)?.decl;
  const values = decl && core.valuesOf(decl);
  return values?.length === 1 ? entriesOf(core, values[0]!, depth + 1) : undefined;
}

function enumOf(core: Core, expr: Expr): readonly EnumEntry[] | undefined {
  const type = core.typeOf(expr);
  return type?.meta === true ? enumEntries(type.class) : undefined;
}

function enumEntries(cls: { readonly form: string; readonly entries: readonly EnumEntry[] } | undefined): readonly EnumEntry[] | undefined {
  return cls?.form === 'enum' ? cls.entries : undefined;
}
