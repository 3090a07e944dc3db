/**
 * How many bytes an array or a text has, at least and at most. `Infinity` where there is no upper bound to be seen.
 */
import type { Call, Expr } from '../../ir/ir.js';
import { returnsOf } from '../declared.js';
import { armValues } from '../infer.js';
import { utf8, type Evaluator } from './values.js';

export interface Range {
  readonly min: number;
  readonly max: number;
}

const DEPTH = 16;
const MORE: Range = { min: 0, max: Infinity };

export function byteLength(evaluator: Evaluator, expr: Expr, depth = 0): Range | undefined {
  if (depth > DEPTH) return undefined;
  const value = evaluator.value(expr);
  if (value?.is === 'bytes') return exactly(value.bytes.length);
  if (value?.is === 'text') return exactly(utf8(value.text).length);
  if (value !== undefined) return undefined;
  const of = (each: Expr): Range | undefined => byteLength(evaluator, each, depth + 1);
  switch (expr.kind) {
    case 'Template': return expr.parts.map((part) => (part.kind === 'Literal' ? of(part) : of(part) ?? MORE)).reduce((a, b) => sum(a, b), exactly(0));
    case 'Cast': return of(expr.value);
    case 'Unary': return expr.op === '!!' ? of(expr.value) : undefined;
    case 'Choose': return either(armValues(expr.branch).map(of));
    case 'Binary': return binaryLength(evaluator, expr, of);
    case 'Name': return heldLength(evaluator, expr, of);
    case 'Member': return expr.name === 'buffer' ? of(expr.object) : heldLength(evaluator, expr, of);
    case 'Call': return callLength(evaluator, expr, of);
    case 'ListExpr': return elements(expr.items, of);
    default: return undefined;
  }
}

type Ask = (expr: Expr) => Range | undefined;

function exactly(count: number): Range {
  return { min: count, max: count };
}

function sum(a: Range | undefined, b: Range | undefined): Range | undefined {
  return a && b && { min: a.min + b.min, max: a.max + b.max };
}

function either(ranges: readonly (Range | undefined)[]): Range | undefined {
  if (ranges.length === 0 || ranges.some((range) => range === undefined)) return undefined;
  return { min: Math.min(...ranges.map((range) => range!.min)), max: Math.max(...ranges.map((range) => range!.max)) };
}

function binaryLength(evaluator: Evaluator, expr: Expr & { readonly kind: 'Binary' }, of: Ask): Range | undefined {
  if (expr.op === '??' || expr.op === '||') return either([of(expr.left), of(expr.right)]);
  if (expr.op !== '+') return undefined;
  const right = evaluator.core.typeOf(expr.right)?.name === 'number' ? exactly(1) : of(expr.right);
  return sum(of(expr.left), right);
}

/** Elements of an array literal; a spread adds as many as it holds. */
function elements(items: readonly Expr[], of: Ask): Range | undefined {
  return items.reduce<Range | undefined>((all, item) => sum(all, item.kind === 'Unary' && item.op === '...' ? of(item.value) ?? MORE : exactly(1)), exactly(0));
}

function heldLength(evaluator: Evaluator, expr: Expr & { readonly kind: 'Name' | 'Member' }, of: Ask): Range | undefined {
  const decl = evaluator.core.referenceOf(expr)?.decl;
  if (decl === undefined) return undefined;
  const values = evaluator.core.valuesOf(decl);
  if (values !== undefined && values.length > 0 && values.length <= DEPTH) return either(values.map(of));
  const getter = decl.is === 'field' ? decl.node.getter : undefined;
  return getter && either(returnsOf(evaluator.core, getter).map((each) => each.value && of(each.value)));
}

function callLength(evaluator: Evaluator, call: Call, of: Ask): Range | undefined {
  const callee = evaluator.core.calleeOf(call);
  if (callee.fns.length > 0 && callee.constructs === undefined) {
    if (!callee.complete) return undefined;
    const returned = callee.fns.flatMap((fn) => returnsOf(evaluator.core, fn).flatMap((each) => each.value ?? []));
    return either(returned.map(of));
  }
  const { name } = callee;
  if (name === undefined) return undefined;
  const on = call.callee.kind === 'Member' ? call.callee.object : undefined;
  const args = call.args.map((argument) => argument.value);
  const [first, second] = args;
  const whole = (expr: Expr | undefined): number | undefined => expr && evaluator.core.constants.whole(expr);
  const counted = (count: number | undefined): Range | undefined => (count === undefined ? undefined : exactly(count));
  switch (name) {
    case 'byteArrayOf':
    case 'ubyteArrayOf':
    case 'of':
      return call.args.reduce<Range | undefined>((all, argument) => sum(all, argument.spread ? of(argument.value) ?? MORE : exactly(1)), exactly(0));
    case 'ByteArray':
    case 'UByteArray':
    case 'ArrayBuffer':
    case 'allocate':
    case 'allocateDirect':
    case 'alloc':
      return counted(whole(first));
    case 'Uint8Array':
    case 'Int8Array':
    case 'DataView':
    case 'from':
      return first === undefined ? undefined : args.length > 1 ? counted(whole(args[2])) : counted(whole(first)) ?? of(first);
    case 'Uint16Array':
    case 'Int16Array':
      return times(first?.kind === 'ListExpr' ? of(first) : counted(whole(first)), 2);
    case 'Uint32Array':
    case 'Int32Array':
    case 'Float32Array':
      return times(first?.kind === 'ListExpr' ? of(first) : counted(whole(first)), 4);
    case 'copyOf':
    case 'clone':
      return first === undefined ? on && of(on) : counted(whole(first));
    case 'copyOfRange':
      return whole(first) !== undefined && whole(second) !== undefined ? exactly(whole(second)! - whole(first)!) : undefined;
    case 'subarray':
    case 'slice': {
      const from = whole(first) ?? 0;
      const to = whole(second);
      if (from < 0 || (to !== undefined && to < from) || (second !== undefined && to === undefined)) return undefined;
      return cut(on && of(on), from, to ?? Infinity);
    }
    case 'plus': return on && first && sum(of(on), evaluator.core.typeOf(first)?.name === 'number' ? exactly(1) : of(first));
    case 'encode': return first && of(first);
    case 'toByteArray':
    case 'encodeToByteArray':
    case 'asByteArray':
    case 'toUByteArray':
    case 'asUByteArray':
    case 'array':
    case 'order':
    case 'put':
    case 'putInt':
    case 'putShort':
    case 'putLong':
    case 'putFloat':
    case 'flip':
    case 'rewind':
    case 'reversedArray':
    case 'trim':
    case 'lowercase':
    case 'uppercase':
      return on && of(on);
    case 'wrap': return first && of(first);
    default: return undefined;
  }
}

/** What is left between two positions; of an array that is not known, as much as fits between them. */
function cut(all: Range | undefined, from: number, to: number): Range | undefined {
  if (all === undefined) return to === Infinity ? undefined : { min: 0, max: to - from };
  const left = (length: number): number => Math.max(0, Math.min(to, length) - from);
  return { min: left(all.min), max: left(all.max) };
}

function times(range: Range | undefined, factor: number): Range | undefined {
  return range && { min: range.min * factor, max: range.max * factor };
}
