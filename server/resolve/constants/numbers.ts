/**
 * Arithmetic of whole numbers. Values beyond what a double holds exactly (Kotlin's `Long`, TypeScript's `bigint`) are kept
 * as big integers.
 */
import type { Value } from './values.js';

export type Whole = number | bigint;

/** As a plain number where it fits exactly. */
export function plainNumber(value: Whole): Whole {
  if (typeof value === 'bigint' && value >= BigInt(Number.MIN_SAFE_INTEGER) && value <= BigInt(Number.MAX_SAFE_INTEGER)) return Number(value);
  return value;
}

export function arithmetic(op: string, a: Whole, b: Whole): Value | undefined {
  switch (op) {
    case '==': return { is: 'bool', value: plainNumber(a) === plainNumber(b) };
    case '!=': return { is: 'bool', value: plainNumber(a) !== plainNumber(b) };
    case '<': return { is: 'bool', value: a < b };
    case '<=': return { is: 'bool', value: a <= b };
    case '>': return { is: 'bool', value: a > b };
    case '>=': return { is: 'bool', value: a >= b };
  }
  if ((typeof a === 'number' && !Number.isInteger(a)) || (typeof b === 'number' && !Number.isInteger(b))) return fraction(op, Number(a), Number(b));
  const value = whole(op, BigInt(a), BigInt(b));
  return value === undefined ? undefined : { is: 'number', value: plainNumber(value) };
}

function fraction(op: string, a: number, b: number): Value | undefined {
  switch (op) {
    case '+': return { is: 'number', value: a + b };
    case '-': return { is: 'number', value: a - b };
    case '*': return { is: 'number', value: a * b };
    case '/': return { is: 'number', value: a / b };
    default: return undefined;
  }
}

/** Shifts beyond this are no constants that anybody writes. */
const MOST_BITS = 128n;

function whole(op: string, a: bigint, b: bigint): bigint | undefined {
  switch (op) {
    case '+': return a + b;
    case '-': return a - b;
    case '*': return a * b;
    case '/': return b === 0n ? undefined : a / b;
    case '%': return b === 0n ? undefined : a % b;
    case '**': return b < 0n || b > MOST_BITS ? undefined : a ** b;
    case '&': return a & b;
    case '|': return a | b;
    case '^': return a ^ b;
    case '<<': return b < 0n || b > MOST_BITS ? undefined : a << b;
    case '>>': return b < 0n || b > MOST_BITS ? undefined : a >> b;
    case '>>>': return b < 0n || b > MOST_BITS ? undefined : BigInt.asUintN(a < 0n ? 32 : 128, a) >> b;
    default: return undefined;
  }
}

/** Kotlin writes its bit operators as infix functions. */
const INFIX: Readonly<Record<string, string>> = {
  and: '&', or: '|', xor: '^', shl: '<<', shr: '>>', ushr: '>>>', plus: '+', minus: '-', times: '*', div: '/', rem: '%',
};

/** A function called on a number. */
export function numberFunction(name: string, on: Whole, args: readonly (Value | undefined)[]): Value | undefined {
  const [first] = args;
  const op = INFIX[name];
  if (op !== undefined) return first?.is === 'number' ? arithmetic(op, on, first.value) : undefined;
  switch (name) {
    case 'toByte': return wrapped(on, 8);
    case 'toShort': return wrapped(on, 16);
    case 'toInt': return wrapped(on, 32);
    case 'toUByte': return { is: 'number', value: Number(BigInt.asUintN(8, integer(on))) };
    case 'toUShort': return { is: 'number', value: Number(BigInt.asUintN(16, integer(on))) };
    case 'toLong':
    case 'toUInt':
    case 'toULong':
    case 'toDouble':
    case 'toFloat':
      return { is: 'number', value: on };
    case 'inv': return { is: 'number', value: plainNumber(~integer(on)) };
    case 'toString': return { is: 'text', text: on.toString(first?.is === 'number' ? Number(first.value) : 10) };
    default: return undefined;
  }
}

function integer(value: Whole): bigint {
  return typeof value === 'bigint' ? value : BigInt(Math.trunc(value));
}

function wrapped(value: Whole, bits: number): Value {
  return { is: 'number', value: Number(BigInt.asIntN(bits, integer(value))) };
}
