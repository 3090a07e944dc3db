/**
 * Evaluates expressions that have one value whenever the program runs: literals, constants, arithmetic, texts put
 * together, UUIDs, arrays of bytes, properties of enum entries and of objects built from constants, and calls of short
 * functions over such arguments.
 *
 * A variable counts only if nothing assigns it again. What depends on input has no value here.
 */
import { canonicalUuid, webBluetoothName } from '../../catalogue/index.js';
import type { Binary, Call, Class, Expr, Field, Fn, Param } from '../../ir/ir.js';
import type { Decl } from '../api.js';
import { argumentFor } from '../arguments.js';
import type { Core } from '../core.js';
import { Answers, Kept } from '../reading.js';
import { returnsOf } from '../declared.js';
import { arithmetic, numberFunction, plainNumber, type Whole } from './numbers.js';
import { textFunction } from './texts.js';

export type Value =
  | { readonly is: 'text'; readonly text: string }
  | { readonly is: 'number'; readonly value: Whole }
  | { readonly is: 'bool'; readonly value: boolean }
  | { readonly is: 'uuid'; readonly uuid: string }
  | { readonly is: 'bytes'; readonly bytes: readonly number[] }
  /** An enum entry, or an object built by a constructor: what its parameters were given. */
  | { readonly is: 'object'; readonly class: Class; readonly given: Given };

/** What parameters stand for, and `this` of an extension; each with the surroundings it was written in. */
interface Given {
  readonly params: ReadonlyMap<Param, Placed>;
  readonly self?: Placed;
}
interface Placed {
  readonly expr: Expr;
  readonly given: Given;
}

const NOTHING_GIVEN: Given = { params: new Map() };

/** So deep may constants lead to constants. */
const DEPTH = 24;

export class Evaluator {
  private depth = 0;
  private readonly known: Answers<Expr, Kept<Value | undefined>>;

  constructor(readonly core: Core) {
    this.known = new Answers(core.memo.reading);
  }

  value(expr: Expr, given: Given = NOTHING_GIVEN): Value | undefined {
    if (given !== NOTHING_GIVEN) return this.deeper(() => this.compute(expr, given));
    const { reading } = this.core.memo;
    let answer = this.known.get(expr);
    if (answer !== undefined) {
      reading.uses(answer);
      return answer.value;
    }
    answer = new Kept<Value | undefined>(undefined);
    reading.begins();
    try {
      answer.value = this.deeper(() => this.compute(expr, given));
    } finally {
      reading.ends(answer);
    }
    if (this.depth === 0) this.known.set(expr, answer);
    return answer.value;
  }

  text(expr: Expr, given: Given): string | undefined {
    const value = this.value(expr, given);
    return value?.is === 'text' ? value.text : undefined;
  }

  whole(expr: Expr, given: Given): Whole | undefined {
    const value = this.value(expr, given);
    return value?.is === 'number' ? value.value : undefined;
  }

  private deeper<T>(compute: () => T | undefined): T | undefined {
    if (this.depth >= DEPTH) return undefined;
    this.depth++;
    try {
      return compute();
    } finally {
      this.depth--;
    }
  }

  private compute(expr: Expr, given: Given): Value | undefined {
    switch (expr.kind) {
      case 'Literal': return literal(expr.value);
      case 'Template': return this.template(expr.parts, given);
      case 'Name': return this.named(expr, given);
      case 'This': return given.self && this.value(given.self.expr, given.self.given);
      case 'Member': return this.member(expr, given);
      case 'Index': return this.indexed(expr.object, expr.index, given);
      case 'Call': return this.call(expr, given);
      case 'Cast': return this.value(expr.value, given);
      case 'Unary': return this.unary(expr.op, expr.value, given);
      case 'Binary': return this.binary(expr, given);
      default: return undefined;
    }
  }

  private template(parts: readonly Expr[], given: Given): Value | undefined {
    let text = '';
    for (const part of parts) {
      const value = this.value(part, given);
      const piece = value && printed(value);
      if (piece === undefined) return undefined;
      text += piece;
    }
    return { is: 'text', text };
  }

  private unary(op: string, operand: Expr, given: Given): Value | undefined {
    const value = this.value(operand, given);
    if (op === '!!') return value;
    if (value?.is === 'bool' && op === '!') return { is: 'bool', value: !value.value };
    if (value?.is !== 'number') return undefined;
    if (op === '-') return number(-value.value);
    if (op === '~') return number(typeof value.value === 'bigint' ? ~value.value : ~BigInt(Math.trunc(value.value)));
    return op === '+' ? value : undefined;
  }

  private binary(expr: Binary, given: Given): Value | undefined {
    if (expr.op === '??' || expr.op === '||' || expr.op === '&&') return this.logical(expr, given);
    const left = this.value(expr.left, given);
    const right = this.value(expr.right, given);
    if (left === undefined || right === undefined) return undefined;
    if (left.is === 'number' && right.is === 'number') return arithmetic(expr.op, left.value, right.value);
    if (expr.op === '+' && left.is === 'bytes') {
      const more = right.is === 'bytes' ? right.bytes : right.is === 'number' ? [Number(right.value) & 0xff] : undefined;
      return more && { is: 'bytes', bytes: [...left.bytes, ...more] };
    }
    if (expr.op !== '+' || (left.is !== 'text' && right.is !== 'text')) return undefined;
    const [a, b] = [printed(left), printed(right)];
    return a === undefined || b === undefined ? undefined : { is: 'text', text: a + b };
  }

  private logical(expr: Binary, given: Given): Value | undefined {
    const left = this.value(expr.left, given);
    if (left === undefined) return undefined;
    if (expr.op === '??') return left;
    if (left.is !== 'bool') return expr.op === '||' ? left : undefined;
    return left.value === (expr.op === '||') ? left : this.value(expr.right, given);
  }

  // ---- Names ------------------------------------------------------------------

  private named(expr: Expr & { readonly kind: 'Name' }, given: Given): Value | undefined {
    const decl = this.core.referenceOf(expr)?.decl;
    return decl && this.declared(decl, given);
  }

  private member(expr: Expr & { readonly kind: 'Member' }, given: Given): Value | undefined {
    const reference = this.core.referenceOf(expr);
    if (reference === undefined) return this.propertyOf(expr, given);
    const { decl } = reference;
    if (decl.is === 'field' && decl.owner !== undefined) {
      const inside = this.fieldOf(expr.object, decl.node, given);
      if (inside !== undefined) return inside;
    }
    return this.declared(decl, given) ?? this.propertyOf(expr, given);
  }

  /** `size`, `length` of what is known; Vue-like holders and `lazy` are left out. */
  private propertyOf(expr: Expr & { readonly kind: 'Member' }, given: Given): Value | undefined {
    if (expr.name === 'uuid' || expr.name === 'buffer') {
      const value = this.value(expr.object, given);
      return value?.is === 'uuid' || value?.is === 'bytes' ? value : undefined;
    }
    if (expr.name !== 'size' && expr.name !== 'length' && expr.name !== 'byteLength') return undefined;
    const value = this.value(expr.object, given);
    if (value?.is === 'bytes') return number(value.bytes.length);
    return value?.is === 'text' ? number(value.text.length) : undefined;
  }

  /** A property of an entry, or of an object built from constants. */
  private fieldOf(object: Expr, field: Field, given: Given): Value | undefined {
    const owner = this.value(object, given);
    return owner?.is === 'object' ? this.property(owner, field) : undefined;
  }

  private property(object: Value & { readonly is: 'object' }, field: Field): Value | undefined {
    if (field.fromParam !== true) {
      const initial = field.initial ?? this.onlyResult(field.getter);
      return initial && !this.isReassigned(field) ? this.value(initial, object.given) : undefined;
    }
    const param = object.class.constructors.flatMap((fn) => fn.params).find((each) => each.property === true && each.name === field.name);
    const placed = param && object.given.params.get(param);
    return placed && this.value(placed.expr, placed.given);
  }

  private declared(decl: Decl, given: Given): Value | undefined {
    switch (decl.is) {
      case 'param': {
        const placed = given.params.get(decl.node);
        return placed && decl.binding === undefined ? this.value(placed.expr, placed.given) : undefined;
      }
      case 'local': {
        const only = this.onlyValue(decl);
        return only && this.value(only, given);
      }
      case 'field': {
        const initial = decl.node.initial ?? this.onlyResult(decl.node.getter);
        return initial === undefined || this.isReassigned(decl.node) ? undefined : this.value(initial, given);
      }
      case 'entry': {
        if (decl.node.value !== undefined) return this.value(decl.node.value);
        return this.core.languageAt(decl.node) === 'kotlin' ? this.entry(decl) : this.counted(decl);
      }
      case 'platform': return constant(decl.member?.value);
      default: return undefined;
    }
  }

  /** The one value that a variable ever has. */
  private onlyValue(decl: Decl & { readonly is: 'local' }): Expr | undefined {
    if (decl.node.kind !== 'Let' || decl.binding === undefined || decl.binding.path.length > 0 || decl.node.value === undefined) return undefined;
    if (decl.node.mutable && this.core.writesTo(decl).length > 1) return undefined;
    return decl.node.value;
  }

  private isReassigned(field: Field): boolean {
    return field.mutable && this.core.writesTo(this.core.fieldDecl(field)).length > 0;
  }

  /** A getter or `lazy` that only hands out one expression. */
  private onlyResult(fn: Fn | undefined): Expr | undefined {
    if (fn === undefined) return undefined;
    const returns = returnsOf(this.core, fn);
    return returns.length === 1 && fn.body?.stmts.length === 1 ? returns[0]!.value : undefined;
  }

  private entry(decl: Decl & { readonly is: 'entry' }): Value {
    const params = new Map<Param, Placed>();
    const ctor = decl.owner.constructors[0];
    for (const param of ctor?.params ?? []) {
      const expr = argumentFor(decl.node, ctor!, param) ?? param.defaultValue;
      if (expr !== undefined) params.set(param, { expr, given: NOTHING_GIVEN });
    }
    return { is: 'object', class: decl.owner, given: { params } };
  }

  /** TypeScript counts an enum's entries on from the last written value. */
  private counted(decl: Decl & { readonly is: 'entry' }): Value | undefined {
    const { entries } = decl.owner;
    const at = entries.indexOf(decl.node);
    for (let i = at - 1; i >= 0; i--) {
      const written = entries[i]!.value;
      if (written === undefined) continue;
      const base = this.whole(written, NOTHING_GIVEN);
      return base === undefined ? undefined : number(Number(base) + at - i);
    }
    return number(at);
  }

  private indexed(object: Expr, index: Expr, given: Given): Value | undefined {
    const at = this.whole(index, given);
    const bytes = this.value(object, given);
    if (bytes?.is === 'bytes' && at !== undefined) return number(bytes.bytes[Number(at)] ?? NaN);
    const items = this.core.constants.items(object);
    const item = at === undefined ? undefined : items?.[Number(at)];
    return item && this.value(item, given);
  }

  // ---- Calls ---------------------------------------------------------------------

  private call(call: Call, given: Given): Value | undefined {
    const callee = this.core.calleeOf(call);
    if (callee.fns.length === 1 && callee.constructs === undefined && callee.complete) return this.projectCall(call, callee.fns[0]!, given);
    if (callee.constructs !== undefined && 'form' in callee.constructs) return this.built(call, callee.constructs, callee.fns[0], given);
    const name = callee.name;
    if (name === undefined || callee.fns.length > 0) return undefined;
    return this.platformCall(call, name, callee.owner, given);
  }

  /** A function whose body is one expression. */
  private projectCall(call: Call, fn: Fn, given: Given): Value | undefined {
    const result = this.onlyResult(fn);
    if (result === undefined) return undefined;
    const params = this.passed(call, fn, given);
    const self = fn.receiver !== undefined && call.callee.kind === 'Member' ? { expr: call.callee.object, given } : undefined;
    return this.value(result, { params, ...(self && { self }) });
  }

  private passed(call: Call, fn: Fn, given: Given): Map<Param, Placed> {
    const params = new Map<Param, Placed>();
    for (const param of fn.params) {
      const expr = argumentFor(call, fn, param);
      if (expr !== undefined) params.set(param, { expr, given });
      else if (param.defaultValue !== undefined) params.set(param, { expr: param.defaultValue, given: { params } });
    }
    return params;
  }

  private built(call: Call, cls: Class, ctor: Fn | undefined, given: Given): Value {
    return { is: 'object', class: cls, given: { params: ctor === undefined ? new Map() : this.passed(call, ctor, given) } };
  }

  private platformCall(call: Call, name: string, owner: string | undefined, given: Given): Value | undefined {
    const args = call.args.map((argument) => argument.value);
    if (call.args.some((argument) => argument.spread)) return undefined;
    const [first, second] = args;
    const on = call.callee.kind === 'Member' ? call.callee.object : undefined;
    const uuid = this.uuidCall(name, owner, first, second, given);
    if (uuid !== undefined) return uuid;
    const array = this.byteCall(call, name, given);
    if (array !== undefined) return array;
    const value = on && this.value(on, given);
    const values = args.map((arg) => this.value(arg, given));
    if (value?.is === 'text') return textFunction(name, value.text, values);
    if (value?.is === 'number') return numberFunction(name, value.value, values);
    if (value?.is === 'uuid' && name === 'toString') return { is: 'text', text: value.uuid };
    if (name === 'format' && values[0]?.is === 'text' && on !== undefined) return textFunction('format', values[0].text, values.slice(1));
    const [text, radix] = values;
    if ((name !== 'parseInt' && name !== 'Number') || text?.is !== 'text') return undefined;
    return number(Number.parseInt(text.text, radix?.is === 'number' ? Number(radix.value) : 10));
  }

  private uuidCall(name: string, owner: string | undefined, first: Expr | undefined, second: Expr | undefined, given: Given): Value | undefined {
    if (first === undefined) return undefined;
    if (owner === 'UUID' && name === 'UUID' && second !== undefined) return uuidOfHalves(this.whole(first, given), this.whole(second, given));
    const isText = (owner === 'UUID' && name === 'fromString') || owner === 'ParcelUuid' || (owner === 'Uuid' && name === 'parse');
    if (isText) return uuidValue(this.value(first, given));
    if (owner !== 'BluetoothUUID') return undefined;
    const value = this.value(first, given);
    const kind = UUID_KINDS[name];
    const named = kind !== undefined && value?.is === 'text' ? webBluetoothName(kind, value.text) : undefined;
    if (named !== undefined) return { is: 'uuid', uuid: named };
    return value?.is === 'number' ? uuidFrom(canonicalUuid(Number(value.value))) : uuidValue(value);
  }

  /** Arrays of bytes whose every element is known. */
  private byteCall(call: Call, name: string, given: Given): Value | undefined {
    const list = BYTE_LISTS.has(name) ? call.args.map((argument) => argument.value) : this.arrayArgument(call, name);
    if (list === undefined) return this.byteConversion(call, name, given);
    const bytes: number[] = [];
    for (const item of list) {
      const value = this.whole(item, given);
      if (value === undefined) return undefined;
      bytes.push(Number(BigInt.asUintN(8, BigInt(value))));
    }
    return { is: 'bytes', bytes };
  }

  /** `new Uint8Array([1, 2])`, `Uint8Array.of(1, 2)`, `Uint8Array.from([1, 2])`. */
  private arrayArgument(call: Call, name: string): readonly Expr[] | undefined {
    const { callee } = call;
    const isArray = (expr: Expr): boolean => expr.kind === 'Name' && /^(Uint8|Int8|Uint8Clamped)Array$|^Buffer$/.test(expr.name);
    const first = call.args[0]?.value;
    if (callee.kind === 'Member' && isArray(callee.object)) {
      if (name === 'of') return call.args.map((argument) => argument.value);
      return name === 'from' && first?.kind === 'ListExpr' ? spreadless(first.items) : undefined;
    }
    return call.construct === true && isArray(callee) && first?.kind === 'ListExpr' ? spreadless(first.items) : undefined;
  }

  private byteConversion(call: Call, name: string, given: Given): Value | undefined {
    const on = call.callee.kind === 'Member' ? call.callee.object : undefined;
    const first = call.args[0]?.value;
    if (on !== undefined && SAME_BYTES.has(name) && call.args.length === 0) {
      const value = this.value(on, given);
      return value?.is === 'bytes' ? value : undefined;
    }
    if (call.construct === true && (name === 'DataView' || name === 'Uint8Array') && first !== undefined && call.args.length === 1) {
      const value = this.value(first, given);
      return value?.is === 'bytes' ? value : undefined;
    }
    const source = name === 'toByteArray' || name === 'encodeToByteArray' ? on : name === 'encode' ? first : undefined;
    const text = source && this.text(source, given);
    return text === undefined ? undefined : { is: 'bytes', bytes: utf8(text) };
  }
}

const UUID_KINDS: Readonly<Record<string, 'service' | 'characteristic' | 'descriptor'>> = {
  getService: 'service', getCharacteristic: 'characteristic', getDescriptor: 'descriptor',
};
const BYTE_LISTS = new Set(['byteArrayOf', 'ubyteArrayOf']);
const SAME_BYTES = new Set(['toByteArray', 'asByteArray', 'toUByteArray', 'asUByteArray', 'clone', 'copyOf', 'slice']);

function spreadless(items: readonly Expr[]): readonly Expr[] | undefined {
  return items.some((item) => item.kind === 'Unary' && item.op === '...') ? undefined : items;
}

function literal(value: string | number | bigint | boolean | null): Value | undefined {
  switch (typeof value) {
    case 'string': return { is: 'text', text: value };
    case 'boolean': return { is: 'bool', value };
    case 'number':
    case 'bigint':
      return number(value);
    default: return undefined;
  }
}

function constant(value: number | string | boolean | readonly number[] | undefined): Value | undefined {
  if (value === undefined) return undefined;
  return typeof value === 'object' ? { is: 'bytes', bytes: value } : literal(value);
}

export function number(value: Whole): Value | undefined {
  const plain = plainNumber(value);
  return typeof plain === 'number' && Number.isNaN(plain) ? undefined : { is: 'number', value: plain };
}

export function printed(value: Value): string | undefined {
  switch (value.is) {
    case 'text': return value.text;
    case 'number':
    case 'bool':
      return String(value.value);
    case 'uuid': return value.uuid;
    default: return undefined;
  }
}

function uuidValue(value: Value | undefined): Value | undefined {
  if (value?.is === 'uuid') return value;
  return value?.is === 'text' ? uuidFrom(canonicalUuid(value.text.trim())) : undefined;
}

function uuidFrom(uuid: string | undefined): Value | undefined {
  return uuid === undefined ? undefined : { is: 'uuid', uuid };
}

/** `UUID(mostSignificantBits, leastSignificantBits)`. */
function uuidOfHalves(high: Whole | undefined, low: Whole | undefined): Value | undefined {
  if (high === undefined || low === undefined) return undefined;
  const hex = (half: Whole): string => BigInt.asUintN(64, BigInt(half)).toString(16).padStart(16, '0');
  return uuidFrom(canonicalUuid(hex(high) + hex(low)));
}

export function utf8(text: string): number[] {
  const bytes: number[] = [];
  for (const sign of text) {
    const code = sign.codePointAt(0)!;
    if (code < 0x80) bytes.push(code);
    else if (code < 0x800) bytes.push(0xc0 | (code >> 6), 0x80 | (code & 0x3f));
    else if (code < 0x10000) bytes.push(0xe0 | (code >> 12), 0x80 | ((code >> 6) & 0x3f), 0x80 | (code & 0x3f));
    else bytes.push(0xf0 | (code >> 18), 0x80 | ((code >> 12) & 0x3f), 0x80 | ((code >> 6) & 0x3f), 0x80 | (code & 0x3f));
  }
  return bytes;
}
